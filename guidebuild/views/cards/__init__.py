"""What cards, leaflets and checklists show."""
