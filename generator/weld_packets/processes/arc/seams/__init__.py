"""Where seams run: on the edges of their components, past other components, and not twice on one line."""
