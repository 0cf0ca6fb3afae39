"""What each command does, from file to file: the only room that joins all others."""
