"""Crossovers: filters, their sums, passive networks, and which box does which edge."""
