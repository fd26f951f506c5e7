"""Tests of toughness, cracks, growth, survival and inspection."""
