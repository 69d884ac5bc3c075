#!/usr/bin/env python3
"""Compares the labels of an annotated score with what another program made of it.

labels.py ANNOTATED EXPORTED: every label that ScoreLens wrote into ANNOTATED must stand in EXPORTED in the same part at the
same time. Prints what is missing; exit status 1 where something is. Shares no code with the program on purpose.
"""
import sys
import xml.etree.ElementTree as ET
from collections import Counter
from fractions import Fraction


def labels(path, ours_only):
    found = Counter()
    for number, part in enumerate(ET.parse(path).getroot().findall("part")):
        divisions, start = Fraction(1), Fraction(0)
        for measure in part.findall("measure"):
            now = before = end = Fraction(0)
            for element in measure:
                length = Fraction(element.findtext("duration", "0")) / divisions
                if element.tag == "attributes":
                    divisions = Fraction(element.findtext("divisions", str(divisions)))
                elif element.tag == "note":
                    at = before if element.find("chord") is not None else now
                    for lyric in element.findall("lyric"):
                        if not ours_only or is_ours(lyric):
                            found[number, start + at, "lyric", text(lyric.findtext("text", ""))] += 1
                    if element.find("chord") is None and element.find("grace") is None:
                        before, now = now, now + length
                elif element.tag == "backup":
                    now -= length
                elif element.tag == "forward":
                    now += length
                elif element.tag in ("direction", "harmony") and (not ours_only or is_ours(element)):
                    at = start + now + Fraction(element.findtext("offset", "0")) / divisions
                    for what in contents(element):
                        found[(number, at) + what] += 1
                end = max(end, now)
            start += end
    return found


def contents(element):
    if element.tag == "direction":
        return [("words", text(w.text or "")) for w in element.iter("words")]
    if element.find("root") is None:
        return []
    names = [element.findtext(p, "") for p in ("root/root-step", "root/root-alter", "kind", "bass/bass-step", "bass/bass-alter")]
    return [("harmony", " ".join(names))]


def is_ours(element):
    return (element.findtext("level") or "").startswith("ScoreLens ")


def text(value):
    return " ".join(value.split())


if __name__ == "__main__":
    wanted = labels(sys.argv[1], True)
    missing = wanted - labels(sys.argv[2], False)
    for (part, at, kind, what), count in sorted(missing.items()):
        print(f"part {part + 1}, quarter {at}: {kind} '{what}' is missing {count} times")
    print(f"{sum(wanted.values())} labels, {sum(missing.values())} missing")
    sys.exit(1 if missing or not wanted else 0)
