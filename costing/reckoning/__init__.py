"""Sums over plain records: no Django, no database, exact decimals.

What is stored is read into a `Book` once, in a fixed number of queries; everything a page shows
about cost, mass and price is then worked out here. A page can therefore cost what is typed but
not yet saved, a what-if can run on a copy, and a test can check a sum without a database.
"""
