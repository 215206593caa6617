"""How fast Dialset is, as the tables of DEVELOPERS.md: ``python tests/bench/speed.py [--quick] [PART ...]``.

Parts: single, stages, batch, memory, growth; all of them if none is named. Figures are CPU of a worker, which
another process disturbs less than the clock; ratios are of one run. ``--quick`` only shows that all works.
Nothing is asserted. Needs Linux: it reads /proc.
"""

import sys
from time import perf_counter

import batch
import growth
import memory
import single
import stages
from environment import environment, load
from printing import Much

PARTS = {"single": single, "stages": stages, "batch": batch, "memory": memory, "growth": growth}
QUICK = Much(questions=13, rounds=1, lines=400, quick=True)


def main(arguments: list[str]) -> None:
    """Measure the parts that are named."""
    names = [each for each in arguments if each != "--quick"]
    if unknown := [each for each in names if each not in PARTS]:
        raise SystemExit(f"no part is called {', '.join(unknown)}; parts: {', '.join(PARTS)}")
    print(environment())
    for name in names or PARTS:
        started = perf_counter()
        PARTS[name].main(QUICK if "--quick" in arguments else Much())
        print(f"\n({name} took {perf_counter() - started:.0f} s; {load()})", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
