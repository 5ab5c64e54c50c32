#!/usr/bin/env python3
"""Sets the order search beside CP-SAT, on the same instances, threads and seconds.

    cargo run --release -p bench -- order --seconds 10 --json own.json
    python3 bench/peer/cpsat.py own.json --seconds 10 --threads 2

For the made-up orders, write them as files first:

    cargo run --release -p bench -- order --generated --write made
    cargo run --release -p bench -- order --generated --seconds 10 --json own.json
    python3 bench/peer/cpsat.py own.json --folder made --seconds 10 --threads 2

CP-SAT comes with the Python package `ortools`, which is no part of this project:
install it with `pip install ortools` if you want the comparison. It is given the greedy
order as a hint, without which it often finds nothing at all on a hundred steps. The
time is that of its search; building the model is not counted. Its orders are looked
through and added up again here, as ours are. Each line shows both values and their ratio; below 1 the own search is the better one.
"""
import argparse
import json
import pathlib
import sys

SOP = pathlib.Path(__file__).resolve().parents[2] / "testdata" / "published" / "sop"


def read(path):
    """The cost table of a TSPLIB ordering file; -1 in row i, column j: j before i."""
    words = path.read_text().split("EDGE_WEIGHT_SECTION", 1)[1].split("EOF")[0].split()
    n, cells = int(words[0]), list(map(int, words[1:]))
    if len(cells) != n * n:
        sys.exit(f"{path.name}: {len(cells)} entries, {n * n} expected")
    return [cells[i * n : (i + 1) * n] for i in range(n)]


def closed(table):
    """For every step all steps that must come after it."""
    n = len(table)
    after = [{j for j in range(n) if table[j][i] == -1} for i in range(n)]
    for k in range(n):
        for i in range(n):
            if k in after[i]:
                after[i] |= after[k]
    return after


def greedy(table, after):
    """Always the cheapest step that may come next."""
    n = len(table)
    before = [{i for i in range(n) if j in after[i]} for j in range(n)]
    order, left = [], set(range(n))
    while left:
        may = [j for j in left if not before[j] & left]
        last = order[-1] if order else None
        order.append(min(may, key=lambda j: (0 if last is None else table[last][j], j)))
        left.discard(order[-1])
    return order


def added_up(table, after, order):
    """What an order costs; it must hold every step once and obey every pair."""
    place = {step: at for at, step in enumerate(order)}
    if len(place) != len(table) or any(place[i] > place[j] for i in place for j in after[i]):
        sys.exit(f"this order breaks a pair: {order}")
    return sum(table[a][b] for a, b in zip(order, order[1:]))


def solve(table, seconds, threads):
    """The best value CP-SAT finds, and its bound."""
    from ortools.sat.python import cp_model

    n, after = len(table), closed(table)
    direct = [a - set().union(*(after[k] for k in a)) for a in after]
    model = cp_model.CpModel()
    rank = [model.new_int_var(0, n - 1, f"rank{i}") for i in range(n)]
    hint = greedy(table, after)
    follows = {(a, b) for a, b in zip(hint, hint[1:])}
    arcs, cost = [], []
    for i in range(n):
        for j in range(n):
            if i == j or i in after[j] or (j in after[i] and j not in direct[i]):
                continue
            used = model.new_bool_var(f"{i}-{j}")
            arcs.append((i, j, used))
            cost.append(table[i][j] * used)
            model.add(rank[j] == rank[i] + 1).only_enforce_if(used)
            model.add_hint(used, (i, j) in follows)
    # A dummy step closes the path to a circuit.
    for i in range(n):
        arcs.append((n, i, model.new_bool_var(f"first{i}")))
        arcs.append((i, n, model.new_bool_var(f"last{i}")))
        model.add_hint(arcs[-2][2], hint[0] == i)
        model.add_hint(arcs[-1][2], hint[-1] == i)
        model.add_hint(rank[i], hint.index(i))
        for j in direct[i]:
            model.add(rank[i] < rank[j])
    model.add_circuit(arcs)
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = threads
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, solver.best_objective_bound
    order = sorted(range(n), key=lambda i: solver.value(rank[i]))
    value = added_up(table, after, order)
    if value != round(solver.objective_value):
        sys.exit(f"CP-SAT says {solver.objective_value}, its order adds up to {value}")
    return value, solver.best_objective_bound


def main():
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("own", help="what `bench order --json` wrote")
    ask.add_argument("--seconds", type=float, default=10.0)
    ask.add_argument("--threads", type=int, default=2)
    ask.add_argument("--folder", type=pathlib.Path, default=SOP, help="where the instances lie")
    ask.add_argument("--only", default="", help="only instances whose name contains this")
    told = ask.parse_args()
    try:
        import ortools
    except ImportError:
        sys.exit("the Python package ortools is missing; install it with: pip install ortools")
    print(f"CP-SAT from ortools {ortools.__version__}, {told.threads} threads, {told.seconds:g} s")
    print(f"{'instance':<12} {'own':>9} {'CP-SAT':>9} {'bound':>9} {'ratio':>7}")
    ratios = []
    for row in json.loads(pathlib.Path(told.own).read_text()):
        file = told.folder / (row["instance"] + ".sop")
        if told.only not in row["instance"] or not file.exists():
            continue
        table = read(file)
        if added_up(table, closed(table), row["solution"]) != row["value"]:
            sys.exit(f"{row['instance']}: our own order does not cost what was said")
        value, bound = solve(table, told.seconds, told.threads)
        ratio = row["value"] / value if value else None
        if ratio:
            ratios.append(ratio)
        shown = (value if value is not None else "none", f"{ratio:.3f}" if ratio else "-")
        print(f"{row['instance']:<12} {row['value']:>9} {shown[0]:>9} {bound:>9.0f} {shown[1]:>7}", flush=True)
    if ratios:
        print(f"mean ratio {sum(ratios) / len(ratios):.3f} over {len(ratios)} instances at {told.seconds:g} s")


if __name__ == "__main__":
    main()
