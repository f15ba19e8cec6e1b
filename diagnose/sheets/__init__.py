"""Tables that the shop keeps anyway: sand sheets, cupola logs, analyses; read, never guessed at."""
