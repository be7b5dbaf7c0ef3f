"""What the laws of all markets do alike: read text, set runs, order a list, count days.

Nothing here is a number or a word of any law, and nothing here knows which law asks.
"""
