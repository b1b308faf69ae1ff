"""Who filters what: the edges of sections' bands, the boxes' filters, and the best of all settings.

Each section has two edges.  An edge that is needed has a window in which its corner may lie, a
wanted corner and a wanted order; it is needed to protect the section, or to hand the band over to
its neighbour.  `problem` holds the edges against the boxes, `search` chooses, `polarity` joins.
"""
