"""Knowledge tracing over several skills a line, worked out another way.

Run: python3 trace.py > trace.tsv (standard library alone). Nothing is shared
with the program. Where the program has a closed form for each skill, this goes
through every joint state of "known" and "not known" of the skills of a line,
weighs each by how likely the line is in it, sums up what is left of each
skill, and then lets the line teach. All in exact fractions; rounded once, as
it is written.

A line of the output: sequence, skills needed, right (1 or 0), skills blamed,
the chance that the line comes right as seen before it, and what is known of
each of the five skills after it. The first lines give each skill's start,
learn, guess and slip.
"""

from fractions import Fraction as F
from itertools import product

SKILLS = 5
PARAMS = [  # start, learn, guess, slip
    (F(30, 100), F(10, 100), F(20, 100), F(10, 100)),
    (F(36, 100), F(8, 100), F(30, 100), F(5, 100)),
    (F(15, 100), F(25, 100), F(10, 100), F(8, 100)),
    (F(60, 100), F(0, 100), F(15, 100), F(10, 100)),
    (F(5, 100), F(40, 100), F(25, 100), F(2, 100)),
]


def plays(k, known):
    """How likely skill k does its part in one joint state."""
    _, _, guess, slip = PARAMS[k]
    return 1 - slip if known else guess


def likelihood(state, needs, right, blamed):
    """How likely a line is in a joint state {skill: known}."""
    if blamed and not right:  # the parts are seen one by one
        out = F(1)
        for k, known in state.items():
            out *= 1 - plays(k, known) if k in blamed else plays(k, known)
        return out
    all_play = F(1)
    for k in needs:
        all_play *= plays(k, state[k])
    return all_play if right else 1 - all_play


def weigh(known, needs, right, blamed):
    """The whole likelihood, and that with each skill known, over all states."""
    involved = sorted(set(needs) | (set() if right else set(blamed)))
    total, with_k = F(0), {k: F(0) for k in involved}
    for bits in product((False, True), repeat=len(involved)):
        state = dict(zip(involved, bits))
        weight = likelihood(state, needs, right, blamed)
        for k, b in state.items():
            weight *= known[k] if b else 1 - known[k]
        total += weight
        for k, b in state.items():
            if b:
                with_k[k] += weight
    return total, with_k


def dice(seed):
    """A linear congruential generator (Numerical Recipes' ranqd1, from memory)."""
    while True:
        seed = (1664525 * seed + 1013904223) % 2**32
        yield seed >> 8


def main():
    for k, p in enumerate(PARAMS):
        print("skill", k, *(repr(float(x)) for x in p), sep="\t")
    for sequence in range(12):
        roll = dice(sequence + 1)
        known = [p[0] for p in PARAMS]
        for _ in range(25):
            if sequence < 2:  # one skill alone: the classic form
                needs = [sequence]
            else:
                needs = sorted({next(roll) % SKILLS for _ in range(1 + next(roll) % 4)})
            right = next(roll) % 100 < 60
            blamed = []
            if not right and sequence >= 2 and next(roll) % 2:
                blamed = sorted({next(roll) % SKILLS for _ in range(1 + next(roll) % 2)})
            chance, _ = weigh(known, needs, True, [])
            total, with_k = weigh(known, needs, right, blamed)
            for k, w in with_k.items():
                p = w / total
                known[k] = p + (1 - p) * PARAMS[k][1]
            # Exact fractions grow without end; thirty figures are enough.
            known = [F(round(p * 10**30), 10**30) for p in known]
            print(sequence, ",".join(map(str, needs)), int(right), ",".join(map(str, blamed)), repr(float(chance)),
                  *(repr(float(p)) for p in known), sep="\t")


main()
