"""Prints the numbered remarks of a marked score with the measure and the quarter at which they stand."""
import re
import sys
import xml.etree.ElementTree as tree

found = []
for part in tree.parse(sys.argv[1]).getroot().findall("part"):
    divisions = 1
    for measure in part.findall("measure"):
        at = 0
        for element in measure:
            duration = int(element.findtext("duration") or 0)
            if element.tag == "attributes":
                divisions = int(element.findtext("divisions") or divisions)
            elif element.tag == "backup":
                at -= duration
            elif element.tag == "forward":
                at += duration
            elif element.tag == "direction":
                place = at + int(element.findtext("offset") or 0)
                found += [(measure.get("number"), place / divisions, words.text or "") for words in element.iter("words")]
            elif element.tag == "note":
                if element.find("chord") is None:
                    start, at = at, at + duration
                for lyric in element.findall("lyric"):
                    found.append((measure.get("number"), start / divisions, "".join(text.text or "" for text in lyric.findall("text"))))

remarks = [
    (int(match[1]), f"measure {number} quarter {quarter:g}", match[2])
    for number, quarter, text in found
    if (match := re.match(r"(\d+): (.*)", text.strip()))
]
for count, place, text in sorted(remarks):
    print(f"{count} {place}: {text}")
