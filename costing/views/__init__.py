"""Pages: who may see them, what they ask, and which template shows the answer."""
