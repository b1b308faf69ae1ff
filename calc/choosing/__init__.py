"""Choose and plan: the whole job.  The only room that knows the other chapters."""
