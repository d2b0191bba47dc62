"""Faces of the bench's boiler as maps, without a database."""

from dataclasses import replace

from fieldapp.view.face_map import build_face_map
from model.condition.boiler_facts import document_facts
from tests.fieldapp.view.bench import document, small_tubes


def face_map(key, kind="wet-back"):
    """The map of a face: front, turnaround (mirrored, pass 2) or rear (mirrored, pass 3)."""
    tubes = [
        replace(tube, hole=f"{'abcdefghijklmnopqrstuvwxyz'[place]}" * 13)
        for place, tube in enumerate(small_tubes())
    ]
    facts = document_facts("b" * 13, document(tubes, kind).body, {})
    return build_face_map(tubes, facts.face(key), facts)


def end_of(face, key):
    return next(end for end in face.ends if end.key == key)
