#!/usr/bin/env python3
"""Fails where a test was skipped that nobody allowed.

skips.py RESULTS ALLOWED [TOOL ...]: RESULTS is the test run's xUnit XML; ALLOWED lists tests that may be skipped, a line each: class
and name, a tab, the reason. A skip whose reason is that one of the TOOLs is not installed passes too: the run has said so.
Exit status 1 where any other test was skipped, or an entry of the list names no test.
"""
import re
import sys
import xml.etree.ElementTree as ET


def main(results, allowed, tools):
    listed = {}
    with open(allowed, encoding="utf-8") as lines:
        for line in lines:
            if line.strip() and not line.startswith("#"):
                name, _, reason = line.rstrip("\n").partition("\t")
                listed[name] = reason
    ran, refused = set(), []
    for test in ET.parse(results).getroot().iter("test"):
        name = f"{test.get('type').rsplit('.', 1)[-1]}.{test.get('method')}"
        ran.add(name)
        if test.get("result") != "Skip":
            continue
        reason = (test.findtext("reason") or "").strip()
        missing = re.fullmatch(r"(\S+) is not installed\.", reason)
        if name not in listed and not (missing and missing.group(1) in tools):
            refused.append(f"{test.get('name')}: {reason}")
    for text in refused:
        print(f"skipped without leave: {text}")
    unknown = sorted(name for name in listed if name not in ran or not listed[name])
    for name in unknown:
        print(f"allowed to be skipped, but there is no such test or no reason: {name}")
    return 1 if refused or unknown else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2], sys.argv[3:]))
