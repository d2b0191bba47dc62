"""Pages of limits of small boilers, for the tests of the page and of its rows."""

from dataclasses import replace

from fieldapp.view.limits_page import limits_page
from model.condition.boiler_facts import document_facts
from model.record.words import Scope
from model.tubesheet.faces import default_faces


def facts(limits=None, **more):
    """Of a boiler with the faces of a dry-back."""
    sheets, faces = default_faces("dry-back", {2, 3})
    settings = {"limits": limits or {}}
    return replace(document_facts("b", {}, settings), sheets=sheets, faces=faces, **more)


def page_of(boiler, scope=Scope.FULL, **more):
    tubes = list(boiler.tubes().values())
    return limits_page(tubes, tubes, facts(**more), scope)


def row_of(page, name, pass_=None, sheet=None):
    (row,) = [
        each
        for each in page.rows
        if (each.result.name, each.result.pass_, each.result.sheet) == (name, pass_, sheet)
    ]
    return row


def level_of(row, grade):
    return next(level for level in row.levels if level.grade is grade)


def plugged(boiler, numbers):
    for number in numbers:
        boiler.see(f"2.{number}", "plugged", "front")
    return boiler
