"""What people have already (photos, a list of species, sightings, captions) brought into a guide's folder."""
