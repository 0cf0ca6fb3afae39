"""What every reader of a packet sees, as plain data: all numbers are text already, nothing is computed later.

A packet is complete: the site renders these records and nothing else, and a released record holds exactly this.
Every text is the user's own and unescaped; the site escapes.
"""
