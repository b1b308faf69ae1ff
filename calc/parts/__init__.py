"""What several calculators and the system are made of: dataclasses with fields and checks."""
