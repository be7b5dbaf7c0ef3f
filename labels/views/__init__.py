"""Pages of the label half of the site."""
