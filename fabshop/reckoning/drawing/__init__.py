"""What a flat drawing comes to: outlines, area, cut length, hands and what is doubtful.

Plain geometry in millimetres. `read` alone opens a file, in the worker; everything
else works on what it returned.
"""
