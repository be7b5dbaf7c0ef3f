"""Ratios against a floor, measured in one run: what `manage.py benchmark` prints.

A time on its own says more about the machine than about the program. So everything is measured
beside a floor that does the same work with nothing to spare, in turns, in the same minute.
"""
