"""Reads drawings back: every DXF of a folder is audited by ezdxf, every SVG parsed as XML. Status 1 where one is wrong."""

import sys
import xml.dom.minidom
from pathlib import Path

import ezdxf

wrong = 0
for path in sorted(Path(sys.argv[1]).iterdir()):
    if path.suffix == ".dxf":
        drawing = ezdxf.readfile(path)
        audit = drawing.audit()
        wrong += len(audit.errors) + len(audit.fixes)
        print(path.name, drawing.dxfversion, len(drawing.modelspace()), "entities", audit.errors, audit.fixes)
    elif path.suffix == ".svg":
        xml.dom.minidom.parse(str(path))
        print(path.name, "parses")
sys.exit(1 if wrong else 0)
