"""Does what finished ovens teach narrow what is believed of the next, and is it still true?

python -m tests.learning --fleets 8 --ovens 8 --seed 1
"""
