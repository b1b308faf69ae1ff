"""Systems and shelf lists as files."""
