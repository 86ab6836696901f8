"""A trailer with a planted fault and a person beside it, to measure the conversation against.

Written apart from the program's own sums and reasoning: nothing here imports or follows them. Figures without a named
source are common practice, no source: the judgement of whoever wrote this simulator.
"""
