"""What is known outside the shop, read once from `shared/`, each row with its source.

One file a noun: `material` is what metals, plastics, laminates and filaments weigh,
`prep` how a joint is prepared, `colour` what a weld's colour means, `caution` what can
hurt; `table` reads a file whole.
"""
