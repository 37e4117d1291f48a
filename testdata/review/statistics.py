"""Outside reference for the statistics of a review.

Reads statistics.json (data that was made up, by a generator with a fixed seed)
and writes on standard output what Debian's numpy, scipy and statsmodels make
of it:

    /usr/bin/python3 statistics.py > statistics-expected.json

    apt-get install python3-scipy python3-statsmodels

- wilson: statsmodels.stats.proportion.proportion_confint(method="wilson")
- rest: scipy.stats.pointbiserialr of each item with the sum of the others
  (scipy.stats.pearsonr where the scores are not 0 and 1)
- alpha: Cronbach's, from numpy's variances, and KR-20 by its own formula
- curves: statsmodels GLM, Poisson with log link and log n as offset; the
  dispersion is Pearson's chi-square by the residual degrees of freedom, at
  least 1; intervals at 95 %
- band, of a curve: statsmodels' own get_prediction(...).summary_frame, fitted
  again with the dispersion as scale, at each opportunity and at two and a half
  times the last one
"""

import json
import os

import numpy as np
import scipy
import scipy.stats
import statsmodels
import statsmodels.api as sm
from statsmodels.stats.proportion import proportion_confint

HERE = os.path.dirname(os.path.abspath(__file__))


def wilson(case):
    low, high = proportion_confint(case["count"], case["n"], alpha=0.05, method="wilson")
    return {"low": low, "high": high}


def scores(rows):
    x = np.array(rows, dtype=float)
    k = x.shape[1]
    alpha = k / (k - 1) * (1 - x.var(axis=0, ddof=1).sum() / x.sum(axis=1).var(ddof=1))
    out = {"alpha": alpha, "rest": []}
    binary = set(np.unique(x)) <= {0.0, 1.0}
    for i in range(k):
        rest = x.sum(axis=1) - x[:, i]
        r = scipy.stats.pointbiserialr(x[:, i], rest) if binary else scipy.stats.pearsonr(x[:, i], rest)
        out["rest"].append(r[0])
    if binary:
        p = x.mean(axis=0)
        out["kr20"] = k / (k - 1) * (1 - (p * (1 - p)).sum() / x.sum(axis=1).var(ddof=0))
    return out


def curve(c):
    t, e, n = (np.array(c[key], dtype=float) for key in ("opportunity", "errors", "n"))
    model = sm.GLM(e, sm.add_constant(np.log(t)), family=sm.families.Poisson(), offset=np.log(n))
    plain = model.fit(tol=1e-14, maxiter=200)
    dispersion = max(1.0, plain.pearson_chi2 / plain.df_resid)
    z = scipy.stats.norm.ppf(0.975)
    b0, b1 = plain.params
    s0, s1 = np.sqrt(np.diag(plain.cov_params()) * dispersion)
    scaled = model.fit(tol=1e-14, maxiter=200, scale=dispersion)
    at = np.log(np.append(t, 2.5 * t[-1]))
    frame = scaled.get_prediction(sm.add_constant(at), offset=np.zeros(len(at))).summary_frame(alpha=0.05)
    band = [{"rate": m, "low": lo, "high": hi} for m, lo, hi in zip(frame["mean"], frame["mean_ci_lower"], frame["mean_ci_upper"])]
    return {
        "a": np.exp(b0), "a_low": np.exp(b0 - z * s0), "a_high": np.exp(b0 + z * s0),
        "b": -b1, "b_low": -b1 - z * s1, "b_high": -b1 + z * s1,
        "dispersion": dispersion, "band": band,
    }


with open(os.path.join(HERE, "statistics.json")) as f:
    data = json.load(f)

print(json.dumps({
    "made_with": {"numpy": np.__version__, "scipy": scipy.__version__, "statsmodels": statsmodels.__version__},
    "wilson": [wilson(c) for c in data["wilson"]],
    "scores": [scores(s) for s in data["scores"]],
    "curves": [curve(c) for c in data["curves"]],
}, indent=1))
