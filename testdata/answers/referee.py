#!/usr/bin/env python3
"""Referee of equivalence: says with SymPy which typed lines are the same.

Reads JSON lines on standard input, one typed line each:
  {"place", "kind": "cell" or "equation", "reference", "typed",
   "symbols": [...], "angles": [...], "unknowns": [...], "definitions": [[symbol, expression], ...]}
The lines are in plain ASCII with every product shown; "35 deg" is an angle.
Writes the same places, in order, as "PLACE<tab>same<tab>SECONDS" or
"PLACE<tab>different<tab>SECONDS", the time being that of SymPy's equals alone:
  a cell is the same if it equals the reference for all values of the symbols;
  an equation, if its difference of sides vanishes once the reference has been
  solved for an unknown in which it is linear, and not without.

The answers are stored in referee.tsv; how to make them again is in
grading/referee_test.go.
"""
import json
import re
import sys
import time

import sympy

spent = 0.0


def read(text, table):
    text = re.sub(r"(\d+(?:\.\d+)?) deg", r"(\1*pi/180)", text).replace("^", "**")
    return sympy.sympify(text, locals=table)


def difference(line, table):
    left, _, right = line.partition("=")
    return read(left, table) - read(right, table)


def vanishes(expression):
    """Whether an expression is zero for all positive values of its symbols."""
    global spent
    start = time.process_time()
    result = expression == 0 or expression.equals(0)
    spent += time.process_time() - start
    if result is None:
        result = sympy.simplify(expression) == 0
    return bool(result)


def same(job):
    table = {s: sympy.Symbol(s, positive=True) for s in job["symbols"]}
    # Angles are acute, so that sqrt(1 - cos(alpha)^2) is sin(alpha).
    table |= {s: sympy.atan(sympy.Symbol("tan_" + s, positive=True)) for s in job["angles"] or []}
    table["arcsin"], table["arccos"], table["arctan"] = sympy.asin, sympy.acos, sympy.atan
    defined = [(table[s], read(e, table)) for s, e in job["definitions"] or []]

    def spelled(expression):
        for symbol, value in reversed(defined):
            expression = expression.subs(symbol, value)
        return expression

    if job["kind"] == "cell":
        return vanishes(spelled(read(job["typed"], table)) - spelled(read(job["reference"], table)))
    typed = spelled(difference(job["typed"], table))
    reference = spelled(difference(job["reference"], table))
    if vanishes(typed):
        return False
    for name in job["unknowns"]:
        unknown = table[name]
        slope = sympy.diff(reference, unknown)
        if slope == 0 or slope.has(unknown):
            continue
        rest = reference.subs(unknown, 0)
        return vanishes(typed.subs(unknown, -rest / slope))
    raise ValueError("no unknown to solve for in " + job["reference"])


for line in sys.stdin:
    job, spent = json.loads(line), 0.0
    print(job["place"], "same" if same(job) else "different", f"{spent:.9f}", sep="\t", flush=True)
