"""Whether what an order welds lies inside what a qualification record proved."""
