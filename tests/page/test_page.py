"""The page and the index in a real browser: whole, quiet, and with the numbers of the tables."""

import re
import shutil

import pytest

from analysis.page import page
from analysis.tables.files import read_csv, read_json, write_csv, write_json
from tests.arms import ARMS
from tests.page.browser import Seen
from tests.page.folder import results
from tests.page.hostile import HOSTILE, hostile
from tests.summaries import NOTE

pytestmark = pytest.mark.slow  # drawing in three dimensions without a graphics card
MOST = 12_000_000  # bytes, asked of the page


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Results of a hostile arm, its page made."""
    text = re.sub(r"\n  confirm: \d+", "\n  confirm: 2", (ARMS / "bench-lever.yaml").read_text())
    result = results(tmp_path_factory.mktemp("results") / "bench-lever", hostile(text))
    tasks = read_csv(result / "making" / "tasks.csv")
    dates = read_csv(result / "making" / "dates.csv")
    for table, name in ((tasks, "tasks"), (dates, "dates")):
        table[0]["title"] = HOSTILE
        write_csv(result / "making" / f"{name}.csv", list(table[0]), table)
    page.main(result, result / "page.html")
    return result


@pytest.fixture(scope="module")
def opened(browser, folder):
    """The page, opened once: drawing in three dimensions without a graphics card is slow."""
    one = Seen(browser, folder / "page.html")
    yield one
    one.page.context.close()


@pytest.fixture
def seen(opened, folder):
    """The opened page with the recommended design chosen; whatever a test does with it, it stays quiet."""
    opened.page.locator("#front-list").evaluate("one => one.open = true")
    opened.page.locator(f"[data-choose={read_json(folder / 'sweep' / 'recommended.json')['id']}]").click()
    yield opened.page
    assert opened.errors == [] and opened.requests == []


def number(text: str) -> float:
    return float(text.replace("\u2212", "-").replace(",", "").split()[0])


def close(shown: str, message: str | float):
    """Whether a number on the page is that of the table: the page shows four significant digits."""
    return number(shown) == pytest.approx(float(message), rel=5.1e-4, abs=1e-12)


def percent(shown: str, margin: str | float):
    """Margins are shown in whole percent."""
    return abs(number(shown) - 100.0 * float(margin)) <= 0.5 + 1e-9


def sheet(one, name):
    """The rows of a table by the name of its region."""
    actual = one.get_by_role("region", name=name, exact=True).locator("tbody tr")
    return [row.locator("td").all_inner_texts() for row in actual.all()]


def test_loads_quietly_in_one_small_file(seen, folder):
    assert (folder / "page.html").stat().st_size < MOST
    assert seen.title() == "bench-lever, revision A"
    assert "not a release for manufacture or service" in seen.locator("header").inner_text()


def test_answer_has_the_numbers_of_the_summary_and_the_sweep(seen, folder):
    message, best = (
        read_json(folder / name) for name in ("as-written/summary.json", "sweep/recommended.json")
    )
    lines = {
        row.locator("th").inner_text(): row.locator("td").all_inner_texts()
        for row in seen.locator("table.answer tbody tr").all()
    }
    assert close(lines["mass"][0], message["mass_kg"]) and close(lines["mass"][1], best["mass_kg"])
    for way in ("hand", "mesh"):
        margins = lines[f"least margin by {way}"]
        assert percent(margins[0], message[f"{way}_margin"]) and percent(margins[1], best[f"{way}_margin"])
    for name, size in message["sizes_mm"].items():
        assert close(lines[name.replace("_", " ")][0], size)
    assert best["id"] in seen.locator("#answer .lead").inner_text()


def test_checks_are_those_of_the_table(seen, folder):
    rows = {
        (row["check"], row["place"], row["load_case"]): row
        for row in read_csv(folder / "as-written" / "checks.csv")
    }
    shown = sheet(seen, "Checks of the arm as written")
    assert len(shown) == len({key[:2] for key in rows})
    for check, place, case, demand, capacity, unit, margin, clause, status, note in shown:
        row = rows[check, place, case]
        assert (
            close(demand, row["demand"])
            and close(capacity, row["capacity"])
            and percent(margin, row["margin"])
        )
        assert (unit, clause, status, note) == tuple(
            row[name] for name in ("unit", "clause", "status", "note")
        )
        here = [one for key, one in rows.items() if key[:2] == (check, place)]
        assert all(
            one["margin"] or float(one["demand"]) == 0.0 for one in here
        )  # nothing is asked of it: no margin
        assert float(row["margin"]) == min(float(one["margin"]) for one in here if one["margin"])


def test_where_the_solid_is_not_as_the_file_says_stands_with_the_answer(seen):
    told = seen.locator("h3", has_text="Where the solid is not as the file says").locator(
        "xpath=following-sibling::ul[1]"
    )
    assert told.locator("li").all_inner_texts() == [NOTE]


def test_hand_beside_mesh_puts_what_is_to_explain_first(seen, folder):
    assert sheet(seen, "Section forces")[0][:2] == ["M3", "input arm, 76.12 mm from the pivot"]
    assert close(sheet(seen, "Simple theory, terms, mesh, what is left")[0][9], -7.8386)
    shown = sheet(seen, "Stresses, movements, peaks")[0]
    assert shown[0].startswith("flange stress") and shown[8] == "explain" and close(shown[6], 7.93529)
    assert "1 of 2 comparisons" in seen.locator("#beside").inner_text()


def test_choosing_a_design_changes_sizes_checks_and_the_view(seen, folder):
    best = read_json(folder / "sweep" / "recommended.json")["id"]
    front = read_csv(folder / "sweep" / "front.csv")
    meshed = next(row for row in front if row["state"] in ("holds", "fails") and row["id"] != best)
    assert seen.locator("#chosen-title").inner_text() == f"Design {best}"
    seen.locator(f"[data-choose={meshed['id']}]").click()
    assert seen.locator("#chosen-title").inner_text() == f"Design {meshed['id']}"
    facts = dict(
        zip(
            seen.locator("#chosen dt").all_inner_texts(),
            seen.locator("#chosen dd").all_inner_texts(),
            strict=True,
        )
    )
    assert close(facts["mass"], meshed["mass_kg"])
    assert percent(facts["margin by hand"], meshed["hand_margin"]) and percent(
        facts["margin by mesh"], meshed["mesh_margin"]
    )
    rows = {
        (row["check"], row["place"], row["load_case"]): row
        for row in read_csv(folder / "designs" / meshed["id"] / "checks.csv")
    }
    for check, place, case, demand, *_ in sheet(seen, f"Checks: Design {meshed['id']}"):
        assert close(demand, rows[check, place, case]["demand"])
    assert seen.locator("#arm-design").input_value() == meshed["id"]
    other = next(row for row in front if row["state"] == "not meshed")
    seen.locator(f"[data-choose={other['id']}]").click()
    sizes = seen.locator("#chosen dd").all_inner_texts()
    assert close(sizes[0], other["mass_kg"]) and close(sizes[1], other["depth_at_hub_mm"])
    assert (
        seen.locator("#chosen-checks").inner_text() == ""
        and "not meshed" in seen.locator("#chosen").inner_text()
    )


def test_arrow_keys_go_along_the_front(seen, folder):
    ids = [row["id"] for row in read_csv(folder / "sweep" / "front.csv")]
    at = ids.index(read_json(folder / "sweep" / "recommended.json")["id"])
    seen.locator("#weight-chart").focus()
    seen.keyboard.press("ArrowRight")
    assert seen.locator("#chosen-title").inner_text() == f"Design {ids[at + 1]}"
    seen.keyboard.press("ArrowLeft")
    assert seen.locator("#chosen-title").inner_text() == f"Design {ids[at]}"


def test_a_click_on_a_point_chooses_it(seen, folder):
    point = seen.locator("#weight-chart .scatterlayer .trace").nth(1).locator("path.point").last
    point.scroll_into_view_if_needed()
    spot = point.bounding_box()
    seen.mouse.click(spot["x"] + spot["width"] / 2, spot["y"] + spot["height"] / 2)
    assert (
        seen.locator("#chosen-title").inner_text()
        == f"Design {read_csv(folder / 'sweep' / 'front.csv')[-1]['id']}"
    )


def test_slider_moves_the_linkage_its_forces_and_their_row(seen, folder):
    rows = [row for row in read_csv(folder / "as-written" / "stroke.csv") if row["load_case"] == "raise"]
    body = seen.locator("#swing-view g")
    seen.locator("#swing-case").select_option("raise")
    before = body.get_attribute("transform")
    slider = seen.locator("#swing-at")
    for _ in range(7):
        slider.press("ArrowRight")
    row = rows[7]
    heads = seen.locator("#swing-table th").all_inner_texts()
    cells = dict(zip(heads, seen.locator("#swing-table td").all_inner_texts(), strict=True))
    for name in ("cylinder_force_kN", "pressure_MPa", "pivot_kN", "friction_kN_m"):
        words = name.split("_")
        message = {"friction_kN_m": "friction, kN m"}.get(name, f"{' '.join(words[:-1])}, {words[-1]}")
        assert close(cells[message], row[name])
    turn = float(re.search(r"rotate\((.+)\)", body.get_attribute("transform"))[1])
    assert (
        turn == pytest.approx(float(row["phi_deg"]), abs=1e-4) and body.get_attribute("transform") != before
    )
    assert f"{100.0 * float(row['fraction']):g} % of the swing" in seen.locator("#swing-message").inner_text()
    pivot = next(
        text for text in seen.locator("#swing-view text").all_text_contents() if text.startswith("pivot")
    )
    assert close(pivot.removeprefix("pivot "), row["pivot_kN"])
    seen.locator("#swing-case").select_option("lower")
    other = next(
        one
        for one in read_csv(folder / "as-written" / "stroke.csv")
        if one["load_case"] == "lower" and one["fraction"] == row["fraction"]
    )
    assert close(
        seen.locator("#swing-table td").nth(heads.index("pivot, kN")).inner_text(), other["pivot_kN"]
    )


def test_view_tells_the_peak_of_the_field_and_case_and_turns_by_key(seen, folder):
    skin = read_json(folder / "page" / "data.json")["skins"]["as-written"]
    seen.locator("#arm-design").select_option("as-written")
    for field in skin["fields"]:
        seen.locator("#arm-field").select_option(field["name"])
        seen.locator("#arm-case").select_option(field["case"])
        message = seen.locator("#arm-message").inner_text()
        assert field["name"] in message and close(message.split(": ")[1], field["peak"])
        place = re.search(r"at \((.*)\) mm", message)  # an SI arm: to a tenth of a millimetre
        assert place and [float(one.replace("\u2212", "-")) for one in place[1].split(", ")] == pytest.approx(
            field["at"], abs=0.051
        )
    eye = "() => JSON.stringify(document.getElementById('arm-view')._fullLayout.scene.camera.eye)"
    before = seen.evaluate(eye)
    seen.locator("#arm-view").focus()
    seen.keyboard.press("ArrowLeft")
    assert seen.evaluate(eye) != before


def test_browser_unpacks_what_was_packed(seen, folder):
    """The mesh on the screen has the corners of the data, to the step of 16 bits."""
    skin = read_json(folder / "page" / "data.json")["skins"]["as-written"]
    seen.locator("#arm-design").select_option("as-written")
    seen.locator("#arm-field").select_option("equivalent stress")
    seen.locator("#arm-case").select_option("lower")
    drawn = """name => {
        const all = document.getElementById('arm-view').data[0][name];
        return [all.length, Math.min(...all), Math.max(...all)];
    }"""
    for name, coded in zip("xyz", skin["points"], strict=True):
        count, low, high = seen.evaluate(drawn, name)
        assert (low, high) == pytest.approx(
            (coded["low"], coded["high"])
        ) and count == 386  # nodes of the block's outside
    field = next(
        one for one in skin["fields"] if (one["name"], one["case"]) == ("equivalent stress", "lower")
    )
    assert seen.evaluate(drawn, "intensity")[1:] == pytest.approx([field["low"], field["high"]])
    assert seen.evaluate(drawn, "i")[0] == 768  # four triangles for each of 192 faces


def test_dates_stand_on_the_page(seen, folder):
    rows = read_csv(folder / "making" / "dates.csv")
    message = seen.locator("#answer .ready").inner_text()
    for row in rows:
        assert row["p50_ready"] in message and row["p90_ready"] in message
    assert seen.locator("#making .chart").count() == len(rows)


def test_hostile_text_is_shown_as_it_stands(seen, folder):
    assert seen.locator("header .long-text").inner_text() == re.sub(r"\s+", " ", HOSTILE)
    assert seen.title() == "bench-lever, revision A"
    assert seen.locator("img[src=x]").count() == 0 and seen.locator("header b").count() == 0
    assert len(seen.locator("script").all()) == 3  # the data and the two of the page


@pytest.mark.parametrize("width", [1280, 390])
def test_nothing_is_wider_than_the_window(browser, folder, width):
    one = Seen(browser, folder / "page.html", width)
    assert one.page.evaluate("document.documentElement.scrollWidth") <= width
    assert one.errors == [] and one.requests == []
    one.page.context.close()


CELLS = """() => [...document.querySelectorAll('.sheet td')].filter((one) => one.offsetParent).map((one) => ({
  right: one.getBoundingClientRect().right, inside: one.closest('.sheet').clientWidth >= one.closest('.sheet').scrollWidth,
  head: getComputedStyle(one, '::before').content, told: one.dataset.head, answer: Boolean(one.closest('.answer')) }))"""


def test_on_a_phone_every_cell_of_a_table_is_in_sight_behind_its_head(browser, folder):
    one = Seen(browser, folder / "page.html", 390)
    cells = one.page.evaluate(CELLS)
    assert len(cells) > 200
    assert all(cell["right"] <= 390 and cell["inside"] for cell in cells)
    named = [cell for cell in cells if cell["told"] and not cell["answer"]]
    assert len(named) > 150 and all(cell["told"].replace('"', '\\"') in cell["head"] for cell in named)
    one.page.context.close()


def test_without_scripts_the_tables_stand(browser, folder):
    one = Seen(browser, folder / "page.html", scripts=False)
    assert len(sheet(one.page, "Checks of the arm as written")) > 10
    assert one.page.locator("#answer table").is_visible() and one.page.locator("noscript").count() == 1
    one.page.context.close()


def test_it_prints(browser, folder):
    one = Seen(browser, folder / "page.html")
    one.page.emulate_media(media="print")
    assert one.page.locator("#arm img.print").is_visible() and not one.page.locator("nav").is_visible()
    assert one.page.pdf(format="A4")[:5] == b"%PDF-"
    one.page.context.close()


def test_same_input_gives_the_same_page(folder, tmp_path):
    page.main(folder, tmp_path / "again.html")
    assert (tmp_path / "again.html").read_bytes() == (folder / "page.html").read_bytes()


def test_a_page_without_a_recommendation_says_why(browser, folder, tmp_path):
    copy = tmp_path / "bench-lever"
    shutil.copytree(folder, copy)
    write_json(
        copy / "sweep" / "recommended.json",
        {"id": None, "reason": "no meshed design has a margin of +5 %"},
    )
    shutil.rmtree(copy / "making")
    page.main(copy, copy / "page.html")
    one = Seen(browser, copy / "page.html")
    assert "no meshed design has a margin of +5 %" in one.page.locator("#answer .lead").inner_text()
    assert (
        one.page.locator("#chosen-title").inner_text() == "As written"
        and one.page.locator("#making").count() == 0
    )
    assert one.errors == [] and one.requests == []
    one.page.context.close()
