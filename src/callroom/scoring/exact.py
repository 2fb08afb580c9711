"""Working out a formula so that no rounding of ours can ever change a place.

Everything rational stays an exact fraction. A power with a fractional exponent is exact where
the root is (4 ** 0.5 is 2) and otherwise irrational; it is then held between two fractions a
known distance apart. ``floor`` and ``ceil`` look at both ends: where they agree the whole
number is certain, where they do not the formula is worked out again with twice the digits.
"""

from decimal import MAX_EMAX, MIN_EMIN, Context, Decimal
from fractions import Fraction
from math import floor

import msgspec

from callroom.scoring.formula import Call, FormulaError, Name, Node, Number, Operation

DIGITS = (50, 100, 200, 400)
"""Significant digits of an irrational power, from the first try to the last.

Two ends that still have a whole number between them after the last are within 10 ** -300 of
it: then it is that whole number, as in ``(2 ** 0.5) ** 2``.
"""

GREATEST_EXPONENT = 1024
"""So that a division may lose a tenth for every place, however large it is."""

MOST_BITS = 2**16
"""Of the numerator and the denominator of anything on the way."""

GREATEST = 10**12
"""Of the outcome."""

KEPT_DECIMALS = 40
"""Decimals kept of a result that is irrational."""


class Between(msgspec.Struct, frozen=True):
    """A value known to lie between two fractions; exact where they are the same."""

    low: Fraction
    high: Fraction


class _NotSharpEnough(Exception):
    """More digits are needed to tell."""


def work_out(tree: Node, values: dict[str, Fraction]) -> Fraction:
    """Return the value of a formula for these values of its names.

    Exact where it is rational; otherwise correct to `KEPT_DECIMALS` decimals.

    Raises
    ------
    FormulaError
        On division by nought, a root of a negative number, or a number beyond all bounds.
    """
    for digits in DIGITS:
        try:
            found = _Arithmetic(values, digits, last=digits == DIGITS[-1]).of(tree)
        except _NotSharpEnough:
            continue
        if max(abs(found.low), abs(found.high)) > GREATEST:
            raise FormulaError("formula.number_too_big", position=1)
        if found.low == found.high:
            return found.low
        scale = 10**KEPT_DECIMALS
        return Fraction(round((found.low + found.high) / 2 * scale), scale)
    raise AssertionError("the last try always settles")


class _Arithmetic:
    def __init__(self, values: dict[str, Fraction], digits: int, *, last: bool) -> None:
        self._values = values
        self._digits = digits
        self._last = last

    def of(self, tree: Node) -> Between:
        """Return the value of `tree`."""
        if isinstance(tree, Number):
            return Between(tree.value, tree.value)
        if isinstance(tree, Name):
            value = self._values[tree.name]
            return Between(value, value)
        if isinstance(tree, Call):
            return self._call(tree)
        return _bounded(self._operation(tree), tree.position)

    def _operation(self, tree: Operation) -> Between:
        one, other = self.of(tree.left), self.of(tree.right)
        if tree.sign == "+":
            return Between(one.low + other.low, one.high + other.high)
        if tree.sign == "-":
            return Between(one.low - other.high, one.high - other.low)
        if tree.sign == "*":
            return _spanning([a * b for a in _ends(one) for b in _ends(other)])
        if tree.sign == "/":
            self._need_no_nought(other, tree.position)
            return _spanning([a / b for a in _ends(one) for b in _ends(other)])
        return self._power(one, other, tree.position)

    def _need_no_nought(self, divisor: Between, position: int) -> None:
        if divisor.low <= 0 <= divisor.high:
            if divisor.low != divisor.high and not self._last:
                raise _NotSharpEnough
            raise FormulaError("formula.divides_by_nought", position=position)

    def _power(self, base: Between, exponent: Between, position: int) -> Between:
        if max(abs(exponent.low), abs(exponent.high)) > GREATEST_EXPONENT:
            raise FormulaError("formula.power_too_big", position=position, most=GREATEST_EXPONENT)
        if exponent.low == exponent.high and exponent.low.denominator == 1:
            return self._whole_power(base, exponent.low.numerator, position)
        if base.low < 0:
            if base.high >= 0 and not self._last:
                raise _NotSharpEnough
            if base.high < 0:
                raise FormulaError("formula.root_of_negative", position=position)
            base = Between(Fraction(0), base.high)
        if base.low == 0 and exponent.low <= 0:
            raise FormulaError("formula.divides_by_nought", position=position)
        # A power grows or falls steadily with its base and with its exponent, so that its
        # extremes are at the ends of both.
        corners = [self._root(b, e) for b in _ends(base) for e in _ends(exponent)]
        return Between(min(c.low for c in corners), max(c.high for c in corners))

    def _whole_power(self, base: Between, exponent: int, position: int) -> Between:
        if exponent < 0:
            self._need_no_nought(base, position)
        bits = max(_bits(base.low), _bits(base.high))
        if bits * abs(exponent) > MOST_BITS:
            raise FormulaError("formula.number_too_big", position=position)
        corners = [end**exponent for end in _ends(base)]
        if base.low < 0 < base.high and exponent > 0:
            corners.append(Fraction(0))
        return _spanning(corners)

    def _root(self, base: Fraction, exponent: Fraction) -> Between:
        """Return ``base ** exponent`` of a base not negative and an exponent not whole."""
        if base in {0, 1}:
            return Between(base, base)
        exact = _exact_power(base, exponent)
        if exact is not None:
            return Between(exact, exact)
        context = Context(prec=self._digits + 20, Emax=MAX_EMAX, Emin=MIN_EMIN)
        near = Fraction(context.power(_decimal(base, context), _decimal(exponent, context)))
        # Base and exponent are each off by at most one in the last of digits + 20 places. With
        # the bounds above the logarithm of the base is below 50,000 and the exponent at most
        # 1,024, so the power is off by less than 10 ** 9 in the last place: less than this.
        slack = near / 10**self._digits
        return Between(near - slack, near + slack)

    def _call(self, tree: Call) -> Between:
        values = [self.of(value) for value in tree.values]
        first = values[0]
        if tree.function == "floor":
            return self._floor(first, tree.position)
        if tree.function == "ceil":
            return _negative(self._floor(_negative(first), tree.position))
        if tree.function == "abs":
            lows = [abs(end) for end in _ends(first)]
            return _spanning([*lows, Fraction(0)] if first.low < 0 < first.high else lows)
        if tree.function == "round_down":
            return self._round_down(first, values[1], tree.position)
        pick = min if tree.function == "min" else max
        return Between(pick(v.low for v in values), pick(v.high for v in values))

    def _floor(self, value: Between, position: int) -> Between:
        low, high = floor(value.low), floor(value.high)
        if low != high and not self._last:
            raise _NotSharpEnough
        if high - low > 1:
            raise FormulaError("formula.number_too_big", position=position)
        return Between(Fraction(high), Fraction(high))

    def _round_down(self, value: Between, decimals: Between, position: int) -> Between:
        places = decimals.low
        if places != decimals.high or places.denominator != 1 or not 0 <= places <= 6:
            raise FormulaError("formula.decimals", position=position, most=6)
        scale = Fraction(10) ** int(places)
        whole = self._floor(Between(value.low * scale, value.high * scale), position)
        return Between(whole.low / scale, whole.high / scale)


def _ends(value: Between) -> tuple[Fraction, ...]:
    return (value.low,) if value.low == value.high else (value.low, value.high)


def _spanning(ends: list[Fraction]) -> Between:
    return Between(min(ends), max(ends))


def _negative(value: Between) -> Between:
    return Between(-value.high, -value.low)


def _bits(value: Fraction) -> int:
    return max(value.numerator.bit_length(), value.denominator.bit_length())


def _bounded(value: Between, position: int) -> Between:
    if max(_bits(value.low), _bits(value.high)) > MOST_BITS:
        raise FormulaError("formula.number_too_big", position=position)
    return value


def _decimal(value: Fraction, context: Context) -> Decimal:
    return context.divide(Decimal(value.numerator), Decimal(value.denominator))


def _exact_power(base: Fraction, exponent: Fraction) -> Fraction | None:
    """Return the power where it is rational: base is a perfect power of the root's degree.

    With the base in lowest terms that is so exactly if both its numerator and its
    denominator are; any other root of a fraction is irrational.
    """
    degree = exponent.denominator
    over, under = _whole_root(base.numerator, degree), _whole_root(base.denominator, degree)
    if over is None or under is None:
        return None
    return Fraction(over, under) ** exponent.numerator


def _whole_root(number: int, degree: int) -> int | None:
    """Return the whole `degree`-th root of a positive `number`, or None if there is none."""
    if number == 1:
        return 1
    if number.bit_length() <= degree:
        return None  # less than 2 ** degree
    root = 1 << -(-number.bit_length() // degree)
    while True:
        closer = ((degree - 1) * root + number // root ** (degree - 1)) // degree
        if closer >= root:
            return root if root**degree == number else None
        root = closer
