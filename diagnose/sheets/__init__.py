"""Tables that the shop keeps anyway: sand sheets, cupola logs, analyses; read, never guessed at.

Imports the session and below; screens, plain and commands import it.
Never enters: layout, guesses that nobody is told of.
"""
