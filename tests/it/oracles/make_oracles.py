#!/usr/bin/env python3
# Makes oracles.json: answers of other people's software to questions our functions also answer.
#
# Pinned versions that made the committed oracles.json:
#   Python 3.11.7; numpy==2.4.6; scipy==1.17.1; pandas==3.1.1; pingouin==0.7.0; statsmodels==0.15.0
# Run by hand:  python tests/it/oracles/make_oracles.py   (writes oracles.json beside this file)
# The random series come from a fixed seed; the tests need no Python.
import json
import pathlib

import numpy as np
import pandas as pd
import pingouin as pg
import scipy
import statsmodels
from scipy import special, stats
from statsmodels.tsa.statespace.kalman_smoother import KalmanSmoother

rng = np.random.default_rng(20240229)


def numbers(x):
    """Plain Python numbers at full precision, recursively."""
    if isinstance(x, dict):
        return {k: numbers(v) for k, v in x.items()}
    if isinstance(x, (list, tuple, np.ndarray)):
        return [numbers(v) for v in x]
    if isinstance(x, np.integer):
        return int(x)
    if isinstance(x, np.floating):
        return float(x)
    return x


def distributions():
    tails = [1e-12, 1e-8, 1e-5, 1e-3, 0.01, 0.025, 0.1, 0.3, 0.5]
    p_all = tails + [1 - p for p in (0.3, 0.1, 0.025, 0.01, 1e-3, 1e-5)]
    dfs = [1, 2, 2.5, 4, 8, 15, 40.5, 200]
    out = []
    for z in (-37, -20, -9, -6, -3.3, -1, -1e-4, 0, 0.7, 2, 5):
        out.append(dict(f="normal_cdf", a=[z], y=stats.norm.cdf(z)))
    for p in p_all + [1e-300, 1e-100]:
        out.append(dict(f="normal_quantile", a=[p], y=stats.norm.ppf(p)))
    for df in dfs:
        for p in p_all:
            out.append(dict(f="student_t_quantile", a=[p, df], y=stats.t.ppf(p, df)))
            out.append(dict(f="chi_square_quantile", a=[p, df], y=stats.chi2.ppf(p, df)))
        for t in (-80, -6, -1.3, -0.02, 0.4, 3, 11):
            out.append(dict(f="student_t_cdf", a=[t, df], y=stats.t.cdf(t, df)))
        for x in (1e-4, 0.3, 2, 9, 60, 350):
            out.append(dict(f="chi_square_cdf", a=[x, df], y=stats.chi2.cdf(x, df)))
    for d1 in (1, 3, 11, 60):
        for d2 in (2, 5, 24.5, 120):
            for p in p_all:
                out.append(dict(f="f_quantile", a=[p, d1, d2], y=stats.f.ppf(p, d1, d2)))
            for x in (1e-3, 0.2, 1, 4, 30):
                out.append(dict(f="f_cdf", a=[x, d1, d2], y=stats.f.cdf(x, d1, d2)))
    for a in (0.2, 1, 6.5, 90):
        for b in (0.5, 3, 40):
            for x in (1e-6, 0.03, 0.4, 0.9, 0.9999):
                out.append(dict(f="regularised_beta", a=[a, b, x], y=special.betainc(a, b, x)))
        for x in (1e-5, 0.1, 1, 7, 80, 200):
            out.append(dict(f="gamma_lower", a=[a, x], y=special.gammainc(a, x)))
            out.append(dict(f="gamma_upper", a=[a, x], y=special.gammaincc(a, x)))
    return out


def lines():
    out = []
    for n in (2, 3, 4, 5, 7, 10, 15, 24, 40):
        for ties in (False, True):
            t = np.sort(rng.integers(0, 6 * n, n)).astype(float)
            if t[0] == t[-1]:
                t[-1] += 1
            y = 35 + 0.03 * t + rng.normal(0, 1.5, n)
            if ties:
                y = np.round(y)
            for level in (0.8, 0.95):
                r = stats.theilslopes(y, t, alpha=level, method="separate")
                j = stats.theilslopes(y, t, alpha=level, method="joint")
                out.append(dict(x=t, y=y, level=level, slope=r.slope, low=r.low_slope, high=r.high_slope,
                                intercept_of_medians=r.intercept, intercept_of_residuals=j.intercept))
    return out


def smoothings():
    """A local level on a grid of days, where a day without a test is a missing value."""
    out = []
    for n in (2, 3, 6, 12, 20, 30):
        for q in (0.005, 0.02, 0.05, 0.4):
            days = np.concatenate([[0], np.cumsum(rng.integers(1, 20, n - 1))])
            r = rng.uniform(0.6, 5, n)
            y = 38 + np.cumsum(rng.normal(0, 0.6, n)) + rng.normal(0, np.sqrt(r))
            m0, p0 = 37.0, float(rng.choice([4.0, 100.0]))
            grid = np.full(days[-1] + 1, np.nan)
            grid[days] = y
            noise = np.ones((1, 1, len(grid)))
            noise[0, 0, days] = r
            model = KalmanSmoother(k_endog=1, k_states=1, k_posdef=1)
            model.bind(grid)
            model["design", 0, 0] = 1.0
            model["transition", 0, 0] = 1.0
            model["selection", 0, 0] = 1.0
            model["obs_cov"] = noise
            model["state_cov", 0, 0] = q
            model.initialize_known(np.array([m0]), np.array([[p0]]))
            res = model.smooth()
            # Covariance of the first and last level, given all tests, from the joint distribution.
            prior = p0 + q * np.minimum.outer(days, days)
            joint = prior - prior @ np.linalg.solve(prior + np.diag(r), prior)
            out.append(dict(days=days, y=y, r=r, q=q, m0=m0, p0=p0,
                            filtered=res.filtered_state[0][days], filtered_var=res.filtered_state_cov[0, 0][days],
                            smoothed=res.smoothed_state[0][days], smoothed_var=res.smoothed_state_cov[0, 0][days],
                            loglik=res.llf_obs.sum(), cov_first_last=joint[0, -1], cov_inside=joint[n // 3, n - 1 - n // 4]))
    return out


def tables():
    out = []
    for n, k in ((4, 2), (8, 2), (12, 3), (20, 3), (15, 5)):
        table = rng.normal(40, 6, (n, 1)) + rng.normal(0, 1.4, (n, k)) + np.linspace(0, 1, k)
        long = pd.DataFrame([dict(who=i, trial=j, cm=table[i, j]) for i in range(n) for j in range(k)])
        icc = pg.intraclass_corr(data=long, targets="who", raters="trial", ratings="cm").set_index("Type")
        names = {"ICC2": "ICC(A,1)", "ICC3": "ICC(C,1)", "ICC3k": "ICC(C,k)"}
        row = lambda name: icc.loc[name if name in icc.index else names[name]]
        # The interval again with all digits, from their F and degrees of freedom.
        r3 = row("ICC3")
        ends = (r3["F"] / stats.f.ppf(0.975, r3["df1"], r3["df2"]), r3["F"] * stats.f.ppf(0.975, r3["df2"], r3["df1"]))
        exact = [(f - 1) / (f + k - 1) for f in ends]
        ci = [c for c in icc.columns if c.startswith("CI95")][0]
        out.append(dict(table=table, icc_2_1=row("ICC2")["ICC"], icc_3_1=row("ICC3")["ICC"], icc_3_k=row("ICC3k")["ICC"],
                        icc_3_1_interval=list(r3[ci]), icc_3_1_interval_exact=exact))
    return out


def spreads():
    out = []
    for nu0, s0, nu, s in ((8, 2.0, 5, 1.2), (8, 0.8, 2, 3.0), (8, 1.6, 60, 1.1), (3, 1.0, 0, 0.0)):
        a, b = (nu0 + nu) / 2, (nu0 * s0**2 + nu * s**2) / 2
        d = stats.invgamma(a, scale=b)
        out.append(dict(nu0=nu0, s0=s0, nu=nu, s=s, mean_variance=d.mean(),
                        quantiles=[[p, float(np.sqrt(d.ppf(p)))] for p in (0.025, 0.1, 0.5, 0.9, 0.975)]))
    return out


def samples():
    out = []
    for n in (1, 2, 3, 4, 9, 16):
        v = np.round(rng.normal(40, 5, n), 1)
        out.append(dict(values=v, mean=v.mean(), sd=None if n < 2 else v.std(ddof=1), median=np.median(v),
                        quantiles=[[p, float(np.quantile(v, p))] for p in (0, 0.05, 0.25, 0.6, 1)]))
    return out


doc = dict(
    meta=dict(generated_by="make_oracles.py", numpy=np.__version__, scipy=scipy.__version__, pandas=pd.__version__,
              pingouin=pg.__version__, statsmodels=statsmodels.__version__),
    distributions=distributions(), lines=lines(), smoothings=smoothings(), tables=tables(), spreads=spreads(),
    samples=samples())

if __name__ == "__main__":
    path = pathlib.Path(__file__).with_name("oracles.json")
    body = ",\n".join(
        f' "{k}": ' + (json.dumps(numbers(v)) if isinstance(v, dict)
                       else "[\n" + ",\n".join("  " + json.dumps(numbers(c)) for c in v) + "\n ]")
        for k, v in doc.items())
    path.write_text("{\n" + body + "\n}\n")
    print({k: len(v) for k, v in doc.items()})
