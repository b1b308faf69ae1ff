"""Systems and stock lists as files."""
