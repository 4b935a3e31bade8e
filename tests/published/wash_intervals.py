"""Makes wash_intervals.csv: 95 % limits of a wash and the chance of a rate above 2 %, by scipy.

Run: python3 tests/published/wash_intervals.py > tests/published/wash_intervals.csv
"""

import scipy
from scipy.stats import beta, binomtest

print(f"# scipy {scipy.__version__}: binomtest().proportion_ci(wilson, exact); beta(m + 1/2, n - m + 1/2).sf(0.02)")
print("mites,bees,wilson_low,wilson_high,exact_low,exact_high,chance_above_2")
for mites, bees in [
    (0, 100), (0, 300), (1, 300), (3, 300), (5, 300), (6, 300), (9, 300), (15, 300), (40, 300),
    (6, 100), (2, 150), (12, 480), (100, 300), (300, 300), (1, 1000),
]:
    test = binomtest(mites, bees)
    wilson = test.proportion_ci(0.95, "wilson")
    exact = test.proportion_ci(0.95, "exact")
    chance = beta(mites + 0.5, bees - mites + 0.5).sf(0.02)
    numbers = [100 * wilson.low, 100 * wilson.high, 100 * exact.low, 100 * exact.high, chance]
    print(f"{mites},{bees}," + ",".join(f"{n:.8f}" for n in numbers))
