#!/usr/bin/env python3
# Makes class_oracle.json: an invented class, and what numpy, statsmodels and pingouin say of it.
#
# Pinned versions that made the committed file:
#   Python 3.11.7; numpy==2.4.6; scipy==1.17.1; pandas==3.1.1; pingouin==0.7.0; statsmodels==0.15.0
# Run by hand:  python tests/it/class/make_class_oracle.py   (the tests need no Python)
import json
import pathlib

import numpy as np
import pandas as pd
import pingouin as pg
import statsmodels.api as sm
from scipy import stats
from statsmodels.formula.api import ols

rng = np.random.default_rng(20260301)
out = []
for n, k in ((8, 2), (26, 3), (31, 3), (30, 5)):
    table = rng.normal(330, 50, (n, 1)) + rng.normal(0, 14, (n, k)) + np.linspace(0, 6, k)
    table = (np.round(table / 5) * 5).astype(int)  # millimetres, read to half centimetres
    long = pd.DataFrame([dict(who=i, trial=j, cm=table[i, j] / 10) for i in range(n) for j in range(k)])
    anova = sm.stats.anova_lm(ols("cm ~ C(who) + C(trial)", data=long).fit())
    mse, df = float(anova["mean_sq"]["Residual"]), float(anova["df"]["Residual"])
    te = mse**0.5
    icc = pg.intraclass_corr(data=long, targets="who", raters="trial", ratings="cm").set_index("Type")
    row = icc.loc["ICC3" if "ICC3" in icc.index else "ICC(C,1)"]
    ends = (row["F"] / stats.f.ppf(0.975, row["df1"], row["df2"]), row["F"] * stats.f.ppf(0.975, row["df2"], row["df1"]))
    bests = table.max(axis=1) / 10
    out.append(dict(
        heights_mm=table.tolist(),
        typical_error_cm=te,
        typical_error_interval_cm=[te * (df / stats.chi2.ppf(0.975, df))**0.5, te * (df / stats.chi2.ppf(0.025, df))**0.5],
        icc=float(row["ICC"]),
        icc_interval=[float((f - 1) / (f + k - 1)) for f in ends],
        quartiles_cm=[float(q) for q in np.quantile(bests, (0.25, 0.5, 0.75))],
    ))
path = pathlib.Path(__file__).with_name("class_oracle.json")
path.write_text("[\n" + ",\n".join(json.dumps(case) for case in out) + "\n]\n")
