"""Two robots on one part: who goes first where their tools would come too near, and what that costs in time."""
