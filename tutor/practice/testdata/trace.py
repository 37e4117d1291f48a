"""Knowledge tracing over kinds of learners and several skills a line, worked out another way.

Run: python3 trace.py > trace.tsv (standard library alone; some ten seconds). Nothing
is shared with the program. Where the program has a closed form for each skill,
this goes through every joint state of "known" and "not known" of the skills of a
line, weighs each by how likely the line is in it, sums up what is left of each
skill, and then lets the line teach. It does so for each kind of learner, weighs
the kinds by Bayes' rule, and takes the mean. All in exact fractions, rounded to
thirty figures after each line, and once more as it is written.

A line of the output: sequence, skills needed, zero (1 for an entry that is
zero), right (1 or 0), skills blamed, the chance that the line comes right as
seen before it, what is known of each of the five skills after it, and then the
learner's mean rate of learning, mean factor on slips, and the chance that zeros
are seen at a glance. The first lines give each skill's start, learn, guess and
slip.
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
STARTS = ((F(1, 4), F(5)), (F(1), F(3)), (F(10), F(2)))  # times the odds at the start, and how common
RATES = (F(0), F(1, 2), F(1), F(2))  # times learn
SLIPS = (F(1, 2), F(1), F(2))  # times slip
GLANCES = (False, True)  # an entry that is zero is seen at a glance:
GLANCE_GUESS, GLANCE_SLIP = F(98, 100), F(1, 100)  # and then teaches nothing
LOW, HIGH = F(1, 100), F(99, 100)  # bounds of what is known
LEAST = F(1, 10**6)  # of a weight


def figures(x):
    """Exact fractions grow without end; thirty figures are enough."""
    return F(round(x * 10**30), 10**30)


class Kind:
    """One kind of learner: its own parameters, what it holds known, its weight."""

    def __init__(self, start, rate, slip, glances):
        odds, self.weight = start
        self.rate, self.slip, self.glances = rate, slip, glances
        self.known = []
        for p, _, _, _ in PARAMS:
            right = p * odds  # against 1 - p
            self.known.append(figures(right / (right + 1 - p)))

    def plays(self, k, known, zero):
        """How likely skill k does its part in one joint state."""
        _, _, guess, slip = PARAMS[k]
        slip *= self.slip
        if zero and self.glances:
            guess, slip = GLANCE_GUESS, GLANCE_SLIP
        return 1 - slip if known else guess

    def likelihood(self, state, needs, zero, right, blamed):
        """How likely a line is in a joint state {skill: known}."""
        if blamed and not right:  # the parts are seen one by one
            out = F(1)
            for k, known in state.items():
                part = self.plays(k, known, zero)
                out *= 1 - part if k in blamed else part
            return out
        all_play = F(1)
        for k in needs:
            all_play *= self.plays(k, state[k], zero)
        return all_play if right else 1 - all_play

    def weigh(self, needs, zero, right, blamed):
        """The whole likelihood, and that with each skill known, over all states."""
        involved = sorted(set(needs) | (set() if right else set(blamed)))
        total, with_k = F(0), {k: F(0) for k in involved}
        for bits in product((False, True), repeat=len(involved)):
            state = dict(zip(involved, bits))
            weight = self.likelihood(state, needs, zero, right, blamed)
            for k, b in state.items():
                weight *= self.known[k] if b else 1 - self.known[k]
            total += weight
            for k, b in state.items():
                if b:
                    with_k[k] += weight
        return total, with_k

    def take(self, needs, zero, right, blamed):
        """Folds a line in, and gives how likely it was."""
        total, with_k = self.weigh(needs, zero, right, blamed)
        for k, w in with_k.items():
            p = w / total
            if not (zero and self.glances):
                p += (1 - p) * PARAMS[k][1] * self.rate
            self.known[k] = figures(min(max(p, LOW), HIGH))
        return total


def dice(seed):
    """A linear congruential generator (Numerical Recipes' ranqd1, from memory)."""
    while True:
        seed = (1664525 * seed + 1013904223) % 2**32
        yield seed >> 8


def normalized(weights):
    total = sum(weights)
    return [w / total for w in weights]


def main():
    for k, p in enumerate(PARAMS):
        print("skill", k, *(repr(float(x)) for x in p), sep="\t")
    for sequence in range(12):
        roll = dice(sequence + 1)
        learners = [Kind(*axes) for axes in product(STARTS, RATES, SLIPS, GLANCES)]
        for kind, w in zip(learners, normalized([kind.weight for kind in learners])):
            kind.weight = w
        for _ in range(25):
            if sequence < 2:  # one skill alone: the classic form
                needs = [sequence]
            else:
                needs = sorted({next(roll) % SKILLS for _ in range(1 + next(roll) % 4)})
            zero = sequence > 3 and next(roll) % 4 == 0
            right = next(roll) % 100 < (85 if zero else 60)
            blamed = []
            if not right and sequence >= 2 and next(roll) % 2:
                blamed = sorted({next(roll) % SKILLS for _ in range(1 + next(roll) % 2)})
            chance = sum(kind.weight * kind.weigh(needs, zero, True, [])[0] for kind in learners)
            weights = [kind.weight * kind.take(needs, zero, right, blamed) for kind in learners]
            weights = normalized([max(w, LEAST) for w in normalized(weights)])
            for kind, w in zip(learners, weights):
                kind.weight = figures(w)

            def mean(of):
                return repr(float(sum(kind.weight * of(kind) for kind in learners)))

            print(sequence, ",".join(map(str, needs)), int(zero), int(right), ",".join(map(str, blamed)), repr(float(chance)),
                  *(mean(lambda kind: kind.known[k]) for k in range(SKILLS)),
                  mean(lambda kind: kind.rate), mean(lambda kind: kind.slip), mean(lambda kind: int(kind.glances)), sep="\t")


main()
