"""Power cable, fuses, trees of runs, leads, the kit, and whether the vehicle can feed it."""
