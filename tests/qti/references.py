"""Checks that everything an unpacked QTI 3 package refers to is there: python references.py PACKAGE_FOLDER

Items: each key names a choice, each choice id stands once, responses and outcomes are declared and used, feedback has its outcome.
Package: manifest, test and folder name the same files and identifiers. Identifiers are fit for the standard.
"""

import re
import sys
from pathlib import Path

from lxml import etree

QTI = {"q": "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"}
PACK = {"p": "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"}
IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_.-]*\Z")
PLAIN = {"p", "div", "ul", "li", "strong", "img"}


def load(file):
    parser = etree.XMLParser(resolve_entities=False, no_network=True, huge_tree=False)
    return etree.parse(str(file), parser)


def item_faults(tree):
    def find(path):
        return tree.xpath(path, namespaces=QTI)

    def named(path):
        return {str(value) for value in find(path)}

    if tree.getroot().tag != f"{{{QTI['q']}}}qti-assessment-item":
        yield "the root is no item"
        return
    for element in tree.iter("*"):
        name = etree.QName(element)
        if name.namespace != QTI["q"]:
            yield f"{name.localname} is of another namespace"
        if not name.localname.startswith("qti-") and name.localname not in PLAIN:
            yield f"{name.localname} is no element that is exported"
    identifiers = [str(i) for i in find("//@identifier")]
    yield from (f"{i!r} is no identifier" for i in identifiers if not IDENTIFIER.match(i))
    declared, used = named("//q:qti-response-declaration/@identifier"), named("//@response-identifier")
    if declared != used or not declared:
        yield f"responses declared {sorted(declared)}, used {sorted(used)}"
    outcomes = named("//q:qti-outcome-declaration/@identifier")
    spoken = named("//q:qti-set-outcome-value/@identifier") | named("//@outcome-identifier")
    if outcomes != spoken:
        yield f"outcomes declared {sorted(outcomes)}, used {sorted(spoken)}"
    for rule, known in (("variable", declared | outcomes), ("correct", declared), ("map-response", declared)):
        for identifier in named(f"//q:qti-response-processing//q:qti-{rule}/@identifier") - known:
            yield f"scoring asks for {identifier}"
    shown = named("//q:qti-feedback-block/@identifier")
    if shown - {text.strip() for text in named("//q:qti-set-outcome-value[@identifier='FEEDBACK']/q:qti-base-value/text()")}:
        yield f"nothing shows the feedback {sorted(shown)}"

    every_choice = [str(i) for i in find("//q:qti-simple-choice/@identifier | //q:qti-simple-associable-choice/@identifier")]
    if len(every_choice) != len(set(every_choice)):
        yield "two choices with one identifier"
    for declaration in find("//q:qti-response-declaration"):
        response = declaration.get("identifier")
        # Of a case each part has an interaction of its own, and a key must be among the choices of that one.
        own = [one for one in find("//q:qti-item-body//*[@response-identifier]") if one.get("response-identifier") == response]
        if len(own) != 1:
            yield f"{len(own)} interactions for {response}"
            continue
        choices = [str(i) for i in own[0].xpath("q:qti-simple-choice/@identifier", namespaces=QTI)]
        sets = [
            {str(i) for i in one.xpath("q:qti-simple-associable-choice/@identifier", namespaces=QTI)}
            for one in own[0].xpath("q:qti-simple-match-set", namespaces=QTI)
        ]
        kind, keys = declaration.get("base-type"), [
            str(value) for value in declaration.xpath("q:qti-correct-response/q:qti-value/text()", namespaces=QTI)
        ]
        if not keys or len(keys) != len(set(keys)):
            yield f"keys {keys}"
        if declaration.get("cardinality") == "single" and len(keys) != 1:
            yield f"{len(keys)} keys for one response"
        if declaration.get("cardinality") == "ordered" and sorted(keys) != sorted(choices):
            yield "the key is no order of the choices"
        if kind == "identifier":
            yield from (f"key {key} is no choice" for key in keys if key not in choices)
        elif kind == "directedPair":
            for key in keys:
                left, _, right = key.partition(" ")
                if len(sets) != 2 or left not in sets[0] or right not in sets[1]:
                    yield f"key {key} is no left and right"
            if len(sets) == 2 and {key.split()[0] for key in keys} != sets[0]:
                yield "a left without its right"
        elif kind == "string":
            entries = [str(e) for e in declaration.xpath("q:qti-mapping/q:qti-map-entry/@map-key", namespaces=QTI)]
            folded = [entry.casefold() for entry in entries]
            if len(folded) != len(set(folded)) or not set(keys) <= set(entries):
                yield f"spellings {entries} for {keys}"
        elif kind == "float":
            limits = [
                float(value)
                for rule in ("gte", "lte")
                for value in find(f"//q:qti-{rule}[q:qti-variable/@identifier='{response}']/q:qti-base-value/text()")
            ]
            if len(limits) != 2 or not limits[0] <= float(keys[0]) <= limits[1]:
                yield f"limits {limits} for {keys}"
        else:
            yield f"base type {kind}"


def package_faults(folder):
    manifest = load(folder / "imsmanifest.xml")
    resources = manifest.xpath("//p:resource", namespaces=PACK)
    identifiers = [r.get("identifier") for r in resources]
    if len(identifiers) != len(set(identifiers)):
        yield "two resources with one identifier"
    hrefs = [f.get("href") for f in manifest.xpath("//p:resource/p:file", namespaces=PACK)]
    there = {str(f.relative_to(folder)) for f in folder.rglob("*") if f.is_file()} - {"imsmanifest.xml"}
    if set(hrefs) != there or len(hrefs) != len(set(hrefs)):
        yield f"listed and not there {sorted(set(hrefs) - there)}, there and not listed {sorted(there - set(hrefs))}"
    for need in manifest.xpath("//p:dependency/@identifierref", namespaces=PACK):
        if need not in identifiers:
            yield f"dependency on {need}"
    by_type = {}
    for resource in resources:
        by_type.setdefault(resource.get("type"), {})[resource.get("identifier")] = resource.get("href")
    drawings = by_type.pop("webcontent", {})
    items = by_type.pop("imsqti_item_xmlv3p0", {})
    tests = by_type.pop("imsqti_test_xmlv3p0", {})
    if by_type or len(tests) != 1:
        yield f"{len(tests)} tests, other resources {sorted(by_type)}"
    for identifier, href in {**items, **tests}.items():
        root = load(folder / href).getroot()
        if root.get("identifier") != identifier:
            yield f"{href} calls itself {root.get('identifier')}, the manifest {identifier}"
    for drawing in drawings.values():
        if etree.QName(load(folder / drawing).getroot()).text != "{http://www.w3.org/2000/svg}svg":
            yield f"{drawing} is no SVG"
    for identifier, href in items.items():
        images = load(folder / href).xpath("//q:img", namespaces=QTI)
        shown = {str((Path(href).parent / image.get("src"))) for image in images}
        needs = manifest.xpath("//p:resource[@identifier=$own]/p:dependency/@identifierref", own=identifier, namespaces=PACK)
        own = manifest.xpath("//p:resource[@identifier=$own]/p:file/@href", own=identifier, namespaces=PACK)
        listed = {drawings.get(need) for need in needs} | (set(own) - {href})
        if shown != listed or not all(image.get("alt") for image in images):
            yield f"{href} shows {sorted(shown)}, the manifest lists {sorted(map(str, listed))}, or one has no words"
    for href in tests.values():
        references = load(folder / href).xpath("//q:qti-assessment-item-ref", namespaces=QTI)
        named = {r.get("identifier"): r.get("href") for r in references}
        if named != items or len(references) != len(items):
            yield "the test and the manifest name different items"


def main(folder):
    faults = [f"package: {fault}" for fault in package_faults(folder)]
    items = sorted((folder / "items").glob("*.xml"))
    for file in items:
        try:
            faults += [f"{file.name}: {fault}" for fault in item_faults(load(file))]
        except etree.XMLSyntaxError as error:
            faults.append(f"{file.name}: not well-formed: {error}")
    for fault in faults:
        print("FAIL", fault)
    print(f"references: {len(items)} items, {len(faults)} faults")
    return 1 if faults or not items else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
