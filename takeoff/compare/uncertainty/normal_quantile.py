"""Quantiles of the standard normal distribution for whole arrays; numpy has none."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

# Wichura's coefficients, highest power first: a ratio of two polynomials for the middle, the flanks and the tails.
_MIDDLE = (
    (
        2.5090809287301226727e3,
        3.3430575583588128105e4,
        6.7265770927008700853e4,
        4.5921953931549871457e4,
        1.3731693765509461125e4,
        1.9715909503065514427e3,
        1.3314166789178437745e2,
        3.3871328727963666080e0,
    ),
    (
        5.2264952788528545610e3,
        2.8729085735721942674e4,
        3.9307895800092710610e4,
        2.1213794301586595867e4,
        5.3941960214247511077e3,
        6.8718700749205790830e2,
        4.2313330701600911252e1,
        1.0,
    ),
)
_FLANKS = (
    (
        7.74545014278341407640e-4,
        2.27238449892691845833e-2,
        2.41780725177450611770e-1,
        1.27045825245236838258e0,
        3.64784832476320460504e0,
        5.76949722146069140550e0,
        4.63033784615654529590e0,
        1.42343711074968357734e0,
    ),
    (
        1.05075007164441684324e-9,
        5.47593808499534494600e-4,
        1.51986665636164571966e-2,
        1.48103976427480074590e-1,
        6.89767334985100004550e-1,
        1.67638483018380384940e0,
        2.05319162663775882187e0,
        1.0,
    ),
)
_TAILS = (
    (
        2.01033439929228813265e-7,
        2.71155556874348757815e-5,
        1.24266094738807843860e-3,
        2.65321895265761230930e-2,
        2.96560571828504891230e-1,
        1.78482653991729133580e0,
        5.46378491116411436990e0,
        6.65790464350110377720e0,
    ),
    (
        2.04426310338993978564e-15,
        1.42151175831644588870e-7,
        1.84631831751005468180e-5,
        7.86869131145613259100e-4,
        1.48753612908506148525e-2,
        1.36929880922735805310e-1,
        5.99832206555887937690e-1,
        1.0,
    ),
)


def normal_quantile(shares: Array) -> Array:
    """Return the values of a standard normal variable below which it lies with the given shares, each in (0, 1).

    Source: Wichura 1988, Algorithm AS 241 (PPND16), Applied Statistics 37 (3), 477-484, about 16 digits;
    coefficients as in the module `statistics` of Python.

    >>> normal_quantile(np.array([0.5, 0.975])).round(4).tolist()
    [0.0, 1.96]
    """
    from_middle = shares - 0.5
    values: Array = from_middle * _ratio(_MIDDLE, 0.180625 - from_middle * from_middle)
    outer = np.abs(from_middle) > 0.425
    out = from_middle[outer]
    depth = np.sqrt(-np.log(np.where(out < 0, shares[outer], 1.0 - shares[outer])))
    size = np.where(depth <= 5.0, _ratio(_FLANKS, depth - 1.6), _ratio(_TAILS, depth - 5.0))
    values[outer] = np.where(out < 0, -size, size)
    return values


def _ratio(coefficients: tuple[tuple[float, ...], tuple[float, ...]], at: Array) -> Array:
    """Return the ratio of two polynomials."""
    above, below = (_polynomial(each, at) for each in coefficients)
    ratio: Array = above / below
    return ratio


def _polynomial(coefficients: tuple[float, ...], at: Array) -> Array:
    """Return a polynomial by Horner's rule, in one array."""
    total = np.full_like(at, coefficients[0])
    for coefficient in coefficients[1:]:
        total *= at
        total += coefficient
    return total
