"""Power cable: size, drop, fuse, trunk and branches, leads, the kit, and whether the car can feed it."""
