"""Chapter “Coil wiring”: every series–parallel circuit of the coils, judged and drawn."""
