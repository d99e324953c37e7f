"""Is what is believed as wide as it should be? A report over ovens that the belief does not know.

python -m tests.calibration --ovens 200 --seed 1
"""
