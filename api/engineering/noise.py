"""What of a difference of floats is arithmetic and no engineering."""

NOISE = 1e-12
"""Relative difference of floats that is arithmetic, not torque: a value on the very limit is within it."""
