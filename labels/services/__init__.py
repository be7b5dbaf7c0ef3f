"""What the label half of the business does: facts, checking, printing."""
