"""Sizes: every design of a sweep by hand, the front of weight and margin, its designs judged by mesh, other materials."""
