"""``work``: what is told of the order of work, dates, refusals, data, lists."""

import json
import re
import tomllib
from datetime import date
from pathlib import Path

import pytest
from collarwright.geometry.judge.evaluate import evaluate
from collarwright.geometry.plan.work.schedule import USUAL_HOURS
from collarwright.geometry.shape.layout import lay_out
from collarwright.outputs import drawings
from collarwright.outputs.cli import app
from collarwright.outputs.lists.collected import collect
from collarwright.outputs.lists.every import every_table
from collarwright.outputs.lists.work import work_lists
from collarwright.outputs.templates import templates
from collarwright.outputs.templates.furniture import Job
from collarwright.outputs.work import parse_start, plan_work
from collarwright.params.problem import Problem
from collarwright.params.reading import read
from typer.testing import CliRunner, Result

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
COFFEE = next(file for file in EXAMPLES if file.stem == "cold-coffee")
TIGHT = next(file for file in EXAMPLES if file.stem == "kombucha-too-tight")


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(app, ["work", *(str(word) for word in words)])


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_each_example_is_told_in_lines_that_fit(file: Path) -> None:
    done = run(file, "--start", "2026-05-02")
    assert done.exit_code == 0, done.output
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[0] == f"Order of work: {tomllib.loads(file.read_text())['title']}"
    assert lines[2].startswith("Local codes come first")
    said = " ".join(done.stdout.split())
    assert said.count("Cut nothing, bore nothing") == (file == TIGHT)
    cut = re.search(r"The boards are cut, .*? go on at step (\d+)", said)
    assert (cut is not None) == (file.stem == "soda-dry-fitted")
    if cut:
        assert f" {cut[1]}. Fit the frame dry" in said


def test_dates_follow_from_the_start_alone() -> None:
    """2026-05-02 is a Saturday; day 1 is that day, and nothing else moves a date."""
    days = json.loads(run(COFFEE, "--json", "--start", "2026-05-02").stdout)
    plain = json.loads(run(COFFEE, "--json").stdout)
    assert [each["begin_h"] for each in days["days"]] == [each["begin_h"] for each in plain["days"]]
    start = date(2026, 5, 2).toordinal()
    for each in days["days"]:
        assert date.fromisoformat(each["date"]).toordinal() == start + each["day"] - 1
    assert all(each["date"] is None for each in plain["days"])
    assert "day 1, Sat 2026-05-02" in run(COFFEE, "--start", "2026-05-02").stdout
    assert run(COFFEE, "--start", "2026-05-02").stdout == run(COFFEE, "--start=2026-05-02").stdout


@pytest.mark.parametrize(
    "text",
    ["2026-02-30", "02.05.2026", "2026-5-2", "1899-12-31", "3000-01-01", "",
     "\u0662\u0660\u0662\u0666-05-02", "2026-05-02T09", "tomorrow", "2026-05-02\x1b[31m"],
)  # fmt: skip
def test_what_is_no_date(text: str) -> None:
    assert isinstance(parse_start(text), Problem)
    done = run(COFFEE, f"--start={text}")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "--start" in done.stderr and "--start 2026-05-02" in done.stderr
    assert "\x1b" not in done.stderr and "Traceback" not in done.stderr
    data = json.loads(run(COFFEE, f"--start={text}", "--json").stdout)
    assert data["problems"][0]["key"] == "--start"


def test_a_leap_day_and_the_last_date() -> None:
    assert parse_start("2028-02-29") == date(2028, 2, 29)
    assert run(COFFEE, "--start", "2999-12-31", "--hours", "0.5").exit_code == 0


@pytest.mark.parametrize("hours", ["0", "0.4", "13", "nan", "-3"])
def test_hours_that_no_day_has(hours: str) -> None:
    done = run(COFFEE, f"--hours={hours}")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "from 0.5 to 12" in done.stderr


def test_fewer_hours_a_day_take_more_days() -> None:
    ready = [json.loads(run(COFFEE, "--json", f"--hours={h}").stdout)["ready"] for h in (2, 6, 12)]
    assert ready[0]["day"] > ready[1]["day"] >= ready[2]["day"]
    assert all(each["shortest_day"] < each["day"] for each in ready)


def test_data_and_text_tell_the_same() -> None:
    data = json.loads(run(COFFEE, "--json").stdout)
    text = " ".join(run(COFFEE).stdout.split())
    numbers = {step["id"]: step["number"] for step in data["steps"]}
    assert list(numbers.values()) == list(range(1, len(numbers) + 1))
    for step in data["steps"]:
        assert f"{step['number']}. {step['title']}" in text
        for said in (*step["do"], *step["cautions"], *step["sources"]):
            assert said in text
        for figure in step["figures"]:
            assert f"= {figure['name']}: {figure['value']}" in text
        for each in step["after"]:
            assert numbers[each["step"]] < step["number"]
    assert data["taking_off"]["title"] in text
    assert not data["must_fails"]
    assert data["hours_a_day"] == USUAL_HOURS


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_papers_that_are_named_are_written(file: Path) -> None:
    project, source = read(file)
    evaluation = evaluate(project)
    layout = evaluation.layout
    job = Job(title="", sha256="", show=project.show, warnings=())
    written = {f"templates/{each.name}.pdf" for each in templates(layout, "a4", job)}
    written |= {f"drawings/{each.name}.pdf" for each in drawings.drawings(project, layout)}
    if project.vessel:
        written.add("drawings/well.pdf")  # where the vessels find a place
    got = collect(project, source, evaluation)
    written |= {f"lists/{name}.csv" for name in every_table(got)} | {"measuring sheet"}
    named = {paper for step in (*got.work.steps, got.work.off) for paper in step.papers}
    assert named <= written
    printed = next(step for step in got.work.steps if step.id == "templates").papers
    apart = {"templates/saw-ring.pdf"}  # printed with the ring's own step
    assert {each for each in written if each.startswith("templates/")} - apart == set(printed)


def test_no_saw_list_is_named_where_the_sticks_do_not_suffice(tmp_path: Path) -> None:
    file = tmp_path / "short.toml"
    before, _, after = COFFEE.read_text().partition("\n[stock]\n")
    assert after.count("[[stock.length]]") == 2 and "trim" in after
    owned = re.sub(r"\[\[stock\.length\]\]\n(?:\w.*\n)+", "", after)
    file.write_text(f'{before}\n[stock]\n{owned}\n[[stock.owned]]\nlength = "20 in"\n')
    assert "saw-list.csv" not in run(file).stdout
    assert "There is no saw list" in " ".join(run(file).stdout.split())
    assert "saw-list.csv" in run(COFFEE).stdout


def test_the_lists() -> None:
    project, _ = read(COFFEE)
    plan = plan_work(project, lay_out(project), date(2026, 5, 2))
    steps, days = work_lists(plan)
    assert (steps.name, days.name) == ("work", "time-plan")
    for table in (steps, days):
        assert all(len(row) == len(table.header) for row in table.rows)
    assert [row[0] for row in steps.rows] == [str(n) for n in range(1, len(plan.steps) + 1)]
    waits = [row for row in days.rows if row[2] == ""]
    told = [row[2] for row in days.rows if row[2]]
    assert sorted(told, key=int) == [row[0] for row in steps.rows]
    assert "wait for the finish to harden" in {row[3] for row in waits}
    assert days.rows[0][:2] == ("1", "Sat 2026-05-02")
    plain = work_lists(plan_work(project, lay_out(project)))
    assert plain[1].header == ("Day", "Step", "What", "At the bench")
    assert [row[0] for row in plain[1].rows] == [row[0] for row in days.rows]
