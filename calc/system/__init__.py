"""A system and its amplifiers: what is known of a job, perhaps little, and how files hold it."""
