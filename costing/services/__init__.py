"""What the business does: one function per act, one transaction, faults as ValidationError."""
