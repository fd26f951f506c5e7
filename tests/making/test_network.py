"""The network against published examples and networkx on random graphs."""

from __future__ import annotations

import itertools
import re

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from analysis.making.dates.network import (
    Network,
    backward,
    driving,
    forward,
    free_float,
    network,
    total_float,
)
from tests.making.files import WEEKDAYS, always, days
from tests.published import case
from tests.reference.pert import pert_mean, pert_variance

Rows = dict[str, tuple[tuple[str, ...], tuple[float, float, float]]]


def rows_of(identifier: str, columns: str) -> Rows:
    """`A-;1,2,3 B A;2,3.5,8`: name, those before, three durations in the order that the text says."""
    head = f"({columns}) "
    text = case(identifier).inputs
    assert text.startswith(head)
    order = [columns.replace("pred; ", "").split(" ")[0].split(",").index(letter) for letter in "omp"]
    rows: Rows = {}
    words = re.sub(r"([A-Z])-;", r"\1 -;", text.removeprefix(head)).split()
    for name, rest in zip(words[::2], words[1::2], strict=True):
        after, three = rest.split(";")
        figures = [float(figure) for figure in three.split(",")]
        low, likely, high = (figures[place] for place in order)
        rows[name] = (() if after == "-" else tuple(after.split(",")), (low, likely, high))
    return rows


def solved(rows: Rows) -> tuple[float, float, str]:
    """Mean duration, variance along the critical path, and that path, from the published rules."""
    net = always({name: after for name, (after, _) in rows.items()})
    low, likely, high = np.array([three for _, three in rows.values()]).T
    early = forward(net, pert_mean(low, likely, high))
    drives = driving(net, early)
    path = "-".join(net.names[task] for task in net.order if drives[task])
    return float(early.finish.max()), float(pert_variance(low, high)[drives].sum()), path


@pytest.mark.parametrize(
    ("columns", "ids", "due"),
    [("pred; o,m,p wk", ("H01", "H02", "H03"), 47.0), ("o,p,m", ("H07", "H08", "H09"), 41.0)],
)
def test_published_networks(columns: str, ids: tuple[str, str, str], due: float) -> None:
    mean, variance, path = solved(rows_of(ids[0], columns))
    expected = [case(name) for name in ids]
    assert f"P(T<={due:.0f})" in expected[2].title
    assert expected[0].title.endswith(path)
    assert mean == pytest.approx(expected[0].expected, abs=float(expected[0].tolerance))
    assert variance == pytest.approx(expected[1].expected, abs=float(expected[1].tolerance))
    assert norm.cdf(due, mean, variance**0.5) == pytest.approx(
        expected[2].expected, abs=float(expected[2].tolerance)
    )


def test_arrows_as_activities() -> None:
    """H13 gives activities between numbered events; an activity follows those that end where it begins."""
    given_arrows = dict(word.split(":") for word in case("H13").inputs.split())
    after = {
        name: tuple(other for other in given_arrows if other.split("-")[1] == name.split("-")[0])
        for name in given_arrows
    }
    net = always(after)
    early = forward(net, np.array([float(length) for length in given_arrows.values()]))
    assert early.finish.max() == case("H13").expected
    drives = driving(net, early)
    events = sorted(
        {event for name, drive in zip(net.names, drives, strict=True) if drive for event in name.split("-")}
    )
    assert case("H13").title.endswith("-".join(events))


graphs = st.integers(2, 9).flatmap(
    lambda count: st.tuples(
        st.lists(st.integers(0, 12), min_size=count, max_size=count),
        st.lists(st.booleans(), min_size=count * (count - 1) // 2, max_size=count * (count - 1) // 2),
    )
)


def random_network(lengths: list[int], joined: list[bool]) -> tuple[Network, np.ndarray, nx.DiGraph]:
    names = [f"t{number}" for number in range(len(lengths))]
    edges = [pair for pair, there in zip(itertools.combinations(names, 2), joined, strict=True) if there]
    graph = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from((one, other, {"weight": lengths[int(one[1:])]}) for one, other in edges)
    graph.add_edges_from((name, "end", {"weight": lengths[int(name[1:])]}) for name in names)
    return (
        always({name: tuple(a for a, b in edges if b == name) for name in names}),
        np.array(lengths, dtype=float),
        graph,
    )


@given(graphs)
def test_end_and_floats_as_longest_paths(drawn: tuple[list[int], list[bool]]) -> None:
    """Total float is the longest path less the longest path through the task (networkx finds both)."""
    net, lengths, graph = random_network(*drawn)
    early = forward(net, lengths)
    end = nx.dag_longest_path_length(graph)
    assert early.finish.max() == pytest.approx(end, abs=1e-9)
    late = backward(net, lengths, early.finish.max())
    floats = total_float(net, early, late)
    free = free_float(net, early)
    for number, name in enumerate(net.names):
        before = nx.dag_longest_path_length(graph.subgraph(nx.ancestors(graph, name) | {name}))
        behind = nx.dag_longest_path_length(graph.subgraph(nx.descendants(graph, name) | {name}))
        assert floats[number] == pytest.approx(end - before - behind, abs=1e-9)
        assert -1e-9 <= free[number] <= floats[number] + 1e-9
    assert ((floats == 0.0) | ~driving(net, early)).all()
    assert driving(net, early).any()


@given(graphs, st.integers(0, 8), st.floats(0.1, 5.0))
def test_floats_do_what_they_say(drawn: tuple[list[int], list[bool]], which: int, more: float) -> None:
    """Lengthened by its free float a task moves no other; lengthened beyond its total float it moves the end by the rest."""
    net, lengths, _ = random_network(*drawn)
    task = which % len(lengths)
    early = forward(net, lengths)
    end = float(early.finish.max())
    free, total = free_float(net, early)[task], total_float(net, early, backward(net, lengths, end))[task]
    others = np.arange(len(lengths)) != task
    longer = lengths + np.where(others, 0.0, free)
    assert forward(net, longer).start[others] == pytest.approx(early.start[others], abs=1e-9)
    longer = lengths + np.where(others, 0.0, total + more)
    assert forward(net, longer).finish.max() == pytest.approx(end + more, abs=1e-9)


def test_two_calendars_by_hand() -> None:
    """From a Monday: 5 working days end on Friday; paint dries 3 days through the weekend to Monday night; a working day
    follows on Tuesday. The other branch has 5 working days and then 1, and may slip by one working day (Monday)."""
    after = {"weld": (), "dry": ("weld",), "other": ("weld",), "fit": ("dry", "other")}
    shop, always_on = days(WEEKDAYS), days()
    net = network(after, {"weld": shop, "dry": always_on, "other": shop, "fit": shop})
    early = forward(net, np.array([5.0, 3.0, 1.0, 1.0]))
    assert early.start.tolist() == [0.0, 5.0, 7.0, 8.0]
    assert early.finish.tolist() == [5.0, 8.0, 8.0, 9.0]
    shorter = forward(
        net, np.array([5.0, 1.0, 1.0, 1.0])
    )  # dry by Saturday night, but nobody is there before Monday
    late = backward(net, np.array([5.0, 1.0, 1.0, 1.0]), shorter.finish.max())
    assert total_float(net, shorter, late).tolist() == [0.0, 2.0, 0.0, 0.0]
    assert free_float(net, shorter).tolist() == [0.0, 2.0, 0.0, 0.0]
    assert driving(net, shorter).tolist() == [True, False, True, True]


def test_many_networks_at_once_as_one_by_one() -> None:
    net = always({"a": (), "b": ("a",), "c": ("a",), "d": ("b", "c")})
    work = np.random.default_rng(1).uniform(1.0, 9.0, (4, 50))
    together = forward(net, work)
    for number in range(50):
        assert forward(net, work[:, number]).finish == pytest.approx(together.finish[:, number], abs=1e-12)
        assert (
            driving(net, forward(net, work[:, number])).tolist() == driving(net, together)[:, number].tolist()
        )


def test_circle_and_missing_task() -> None:
    with pytest.raises(ValueError, match="circle"):
        always({"a": ("b",), "b": ("a",)})
    with pytest.raises(ValueError, match="no such task: c"):
        always({"a": ("c",)})
