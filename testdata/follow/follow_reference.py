"""Reference values for the follow-up's statistics, by pingouin, statsmodels, scipy and dense matrices.

Run: python follow_reference.py > follow_reference.json   (package versions are written into the file)

- tables: two-way reliability (pingouin.intraclass_corr) of the data of T1 to T3 and of made-up ones;
- mixed: swings in sessions, before and after, by statsmodels MixedLM with REML; the restricted likelihood
  at three other points from dense matrices (Harville 1977, J Am Stat Assoc 72:320-338);
- pooled: effects over players by statsmodels' combine_effects (DerSimonian and Laird with the
  Hartung-Knapp interval).
"""
import json, sys, warnings
import numpy as np, pandas as pd, pingouin, scipy, statsmodels
import statsmodels.formula.api as smf
from statsmodels.stats.meta_analysis import combine_effects

warnings.filterwarnings("ignore")
rng = np.random.default_rng(14)


def table(name, rows):
    rows = np.asarray(rows, float)
    n, k = rows.shape
    long = pd.DataFrame(dict(who=np.repeat(np.arange(n), k), trial=np.tile(np.arange(k), n), y=rows.ravel()))
    icc = pingouin.intraclass_corr(long, targets="who", raters="trial", ratings="y")
    value = icc["ICC"].to_numpy().tolist()  # single 1, 2, 3, then average 1, 2, 3
    ends = [list(map(float, ends)) for ends in icc.filter(like="CI95").iloc[:, 0]]
    return dict(name=name, types=icc["Type"].tolist(), rows=rows.tolist(), icc=value, ci95=ends)


weir_a = np.array([[146, 148, 170, 90, 157, 156, 176, 205], [140, 152, 152, 99, 145, 153, 167, 218]]).T
weir_b = np.array([[166, 168, 160, 150, 147, 146, 156, 155], [160, 172, 142, 159, 135, 143, 147, 168]]).T
shrout = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]]
players = rng.normal(3, 4, 7)[:, None] + rng.normal(0, 1.2, (7, 3)) + np.array([0.0, 0.5, -0.3])
tables = [table("T1", shrout), table("T2", weir_a), table("T3", weir_b), table("seven players", players.round(2))]


def gls_error(x, session, var_between, var_within):
    """Standard error of the change when the variances are known."""
    same = (session[:, None] == session[None, :]).astype(float)
    vi = np.linalg.inv(var_within * np.eye(len(session)) + var_between * same)
    return float(np.sqrt(np.linalg.inv(x.T @ vi @ x)[1, 1]))


def restricted(y, x, session, var_between, var_within):
    """Restricted log likelihood without its constant, by dense matrices."""
    same = (session[:, None] == session[None, :]).astype(float)
    v = var_within * np.eye(len(y)) + var_between * same
    vi = np.linalg.inv(v)
    info = x.T @ vi @ x
    beta = np.linalg.solve(info, x.T @ vi @ y)
    r = y - x @ beta
    return -0.5 * (np.linalg.slogdet(v)[1] + np.linalg.slogdet(info)[1] + r @ vi @ r)


def mixed(name, before, after, change, between, within):
    y, session, phase = [], [], []
    for number, n in enumerate(before + after):
        late = number >= len(before)
        day = rng.normal(0, between)
        for _ in range(n):
            y.append(round(-2 + change * late + day + rng.normal(0, within), 2))
            session.append(number)
            phase.append(float(late))
    data = pd.DataFrame(dict(y=y, session=session, late=phase))
    fit = smf.mixedlm("y ~ late", data, groups="session").fit(reml=True, method=["powell"])
    y, session = np.array(y), np.array(session)
    x = np.column_stack([np.ones(len(y)), phase])
    points = [(0.3, 1.1), (2.5, 0.7), (0.02, 3.0)]
    between, within = float(fit.cov_re.iloc[0, 0]), float(fit.scale)
    return dict(name=name, y=y.tolist(), session=session.tolist(), late=phase,
                change=float(fit.params["late"]), change_se=float(fit.bse["late"]),
                change_se_gls=gls_error(x, session, between, within),
                var_between=between, var_within=within,
                restricted=[dict(var_between=b, var_within=w, log=float(restricted(y, x, session, b, w)))
                            for b, w in points])


cases = [mixed("four sessions each", [3, 4, 2, 3], [3, 3, 5, 2], 3.0, 1.5, 1.0),
         mixed("uneven", [5, 1, 2], [4, 4], 1.0, 2.0, 1.3),
         mixed("many", [4] * 6, [5] * 7, -2.0, 1.8, 2.0)]


def pooled(effect, variance):
    all = combine_effects(np.array(effect), np.array(variance), method_re="dl", use_t=False)
    # The interval by the t distribution with the Hartung-Knapp scale.
    hk = combine_effects(np.array(effect), np.array(variance), method_re="dl", use_t=True).summary_frame()
    return dict(effect=effect, variance=variance, tau2=float(all.tau2), mean=float(all.mean_effect_re),
                se=float(all.sd_eff_w_re_hksj),
                interval=[float(v) for v in hk.loc["random effect wls", ["ci_low", "ci_upp"]]])


meta = [pooled([1.2, 3.0, -0.4, 2.2, 1.9], [0.5, 0.9, 0.4, 1.2, 0.7]),
        pooled([2.4, -0.5, 0.3, 3.6], [0.3, 0.8, 0.4, 0.9])]

json.dump(dict(versions=dict(python=sys.version.split()[0], pingouin=pingouin.__version__,
                             statsmodels=statsmodels.__version__, pandas=pd.__version__,
                             numpy=np.__version__, scipy=scipy.__version__),
               tables=tables, mixed=cases, pooled=meta), sys.stdout, indent=1)
