"""What people do at a cell, step by step, each step held to the state that the steps before it have made."""
