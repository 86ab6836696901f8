"""One formula a function: plain floats with the unit in the name, limits enforced, working shown.

Nothing here reads text, prints, or imports anything beyond the standard library and ``bot.problems``.
"""
