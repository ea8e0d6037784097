"""A pack's plan in, what an adult does with it out: what to have ready, steps to tick, minutes. Draws nothing."""
