"""Kinds that must paginate or compute. Each takes jobs and gives pieces; no kind knows another."""
