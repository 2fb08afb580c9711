"""Forms: what a person typed, read into what the actions take, every fault at once."""
