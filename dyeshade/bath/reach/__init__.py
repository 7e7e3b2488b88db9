"""Reaching a pH: the log of additions and readings, what is learnt from it, what to add next."""
