"""The whole system as it is to be joined, and its drawing."""
