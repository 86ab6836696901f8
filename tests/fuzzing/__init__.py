"""Bad input, made from good input by a seeded run of chance, for every door of the program."""
