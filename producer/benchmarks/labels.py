"""Labels: one, a sheet and five hundred, against ReportLab setting the same text beside them."""

from statistics import median

from labels.rendering.blocks import Setting
from producer.benchmarks.label_runs import Kind, Side, found_setting, run_of
from producer.benchmarks.own_process import Spent, spent_in_own_process
from producer.benchmarks.reporting import Table, in_ms, in_ratio, verdict
from producer.benchmarks.timing import Maker, medians_ms

_WEIGHED = 500
_LONG = 5000
_DISTINCT_GOAL, _LONG_GOAL_MB = 3.0, 300

_DIFFERENCE: dict[Kind, str] = {
    "numbered": "another lot each",
    "weighed": "another lot and weight each",
}
_NOTES = (
    "Ours: fit the type, draw, impose, through the functions of a print run. Floor: ReportLab,",
    "told the sizes and places that ours has to find, same text, same font files, breaking its own",
    "lines for every label. The law's statements are written before the clock starts, for both.",
    '"First in its process": a fresh Python, loading the libraries and fonts counts.',
    '"Set once": a floor that sets the label once and repeats it, which nobody asked for.',
)


def label_tables(*, is_quick: bool) -> list[Table]:
    """Time of print runs as ratios, and the peak memory of the long ones."""
    setting = found_setting()  # and so our type is read, as on a server that has printed before
    many, counts = (30, (1, 24)) if is_quick else (500, (1, 24))
    rounds = 1 if is_quick else 7
    rows = [
        _first_in_process(setting, rounds=1 if is_quick else 3),
        *(
            _warm(f"{count} identical" if count > 1 else "1 label, later", "same", count,
                  setting=setting, rounds=rounds, goal=count == many)
            for count in (*counts, many)
        ),
        _warm(f"{many} identical, floor set once", "same", many, setting=setting,
              rounds=rounds, floor="floor once"),
    ]  # fmt: skip
    distinct: tuple[tuple[Kind, int], ...] = (
        ("numbered", many), ("weighed", 3 if is_quick else _WEIGHED),
    )  # fmt: skip
    rows += [
        _warm(f"{count} distinct, {_DIFFERENCE[kind]}", kind, count, setting=setting,
              rounds=1 if is_quick else 3, goal=not is_quick, at_most=_DISTINCT_GOAL)
        for kind, count in distinct
    ]  # fmt: skip
    times = Table(
        "Labels on a 3 x 7 sheet of A4, against a ReportLab floor",
        ("run", "ratio", "ours", "floor", "goal: the floor; three times it if distinct"),
        tuple(rows),
        _NOTES,
    )
    alike: tuple[tuple[Kind, int], ...] = (("same", 1), ("same", many))
    tables = [times, _memory((*alike, *distinct), setting=setting)]
    return tables if is_quick else [*tables, _long_run(setting=setting)]


def _first_in_process(setting: Setting, *, rounds: int) -> tuple[str, ...]:
    found: dict[Side, list[float]] = {"ours": [], "floor": []}
    for _ in range(rounds):
        for side, times in found.items():
            times.append(spent_in_own_process(side, "same", count=1, setting=setting).ms)
    return _row("1 label, first in its process", median(found["ours"]), median(found["floor"]))


def _warm(
    what: str, kind: Kind, count: int, *, setting: Setting, rounds: int, goal: bool = False,
    floor: Side = "floor", at_most: float = 1.0,
) -> tuple[str, ...]:  # fmt: skip
    def maker(side: Side) -> Maker:
        # A series of its own for every round: nothing that was reckoned before can be kept.
        return lambda number: run_of(side, kind, count=count, setting=setting, series=number + 1)

    ours_ms, floor_ms = medians_ms(maker("ours"), maker(floor), rounds=rounds)
    return _row(what, ours_ms, floor_ms, goal=goal, at_most=at_most)


def _row(
    what: str, ours_ms: float, floor_ms: float, *, goal: bool = False, at_most: float = 1.0
) -> tuple[str, ...]:
    said = verdict(is_met=ours_ms <= at_most * floor_ms) if goal else ""
    return what, in_ratio(ours_ms, floor_ms), in_ms(ours_ms), in_ms(floor_ms), said


def _memory(runs: tuple[tuple[Kind, int], ...], *, setting: Setting) -> Table:
    """Peak memory, each run in a process of its own."""
    rows = []
    for kind, count in runs:
        ours = spent_in_own_process("ours", kind, count=count, setting=setting)
        floor = spent_in_own_process("floor", kind, count=count, setting=setting)
        what = f"{count} {'identical' if kind == 'same' else f'distinct, {_DIFFERENCE[kind]}'}"
        rows.append((what, in_ratio(ours.peak_mb, floor.peak_mb), *_held(ours), *_held(floor)))
    return Table(
        "Peak memory and size of file of the same runs, each in a process of its own",
        ("run", "memory ratio", "ours", "file", "floor", "file"),
        tuple(rows),
        ("The whole process is counted, Python and libraries included; one run each.",),
    )


def _long_run(*, setting: Setting) -> Table:
    """Five thousand weighed labels, drawn in steps as the pages do it."""
    spent = spent_in_own_process("ours", "weighed", count=_LONG, setting=setting)
    said = verdict(is_met=spent.peak_mb < _LONG_GOAL_MB)
    return Table(
        f"A run of {_LONG} distinct labels in steps, in a process of its own",
        ("run", "peak memory", "file", "time", f"goal: under {_LONG_GOAL_MB} MB"),
        ((f"{_LONG} distinct", *_held(spent), in_ms(spent.ms), said),),
        ("The whole process is counted, Python and libraries included; one run.",),
    )


def _held(spent: Spent) -> tuple[str, str]:
    return f"{spent.peak_mb:.0f} MB", f"{spent.size_kb:.0f} kB"
