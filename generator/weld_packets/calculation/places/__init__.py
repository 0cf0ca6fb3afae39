"""Places on the fixture in plain millimetres: points, torch paths, outlines in a wrong unit."""
