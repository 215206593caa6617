"""The version of the program, which every answer names."""

PROGRAM = "0.1.0"
