"""What is known outside the shop, read once from `shared/`, each row with its source.

One file a noun: `material` is what metals, plastics, laminates and filaments weigh;
`table` reads a file whole.
"""
