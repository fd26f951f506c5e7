"""The elastic solver against closed forms, published benchmarks and a general finite-element library."""
