"""Reading a STEP file's solids by name, with the kernel's own reader."""

from pathlib import Path

import cadquery as cq
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool


def solids_by_name(path: Path) -> dict[str, list[cq.Shape]]:
    """The placed solids of each product, by the product's name."""
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    assert reader.ReadFile(str(path)) == IFSelect_RetDone
    document = TDocStd_Document(TCollection_ExtendedString("read"))
    assert reader.Transfer(document)
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    roots = TDF_LabelSequence()
    tool.GetFreeShapes(roots)
    found: dict[str, list[cq.Shape]] = {}
    for root in (roots.Value(i) for i in range(1, roots.Length() + 1)):
        components = TDF_LabelSequence()
        XCAFDoc_ShapeTool.GetComponents_s(root, components)
        for label in (components.Value(i) for i in range(1, components.Length() + 1)):
            product = TDF_Label()
            XCAFDoc_ShapeTool.GetReferredShape_s(label, product)
            shape = cq.Shape.cast(XCAFDoc_ShapeTool.GetShape_s(label))
            found.setdefault(name_of(product), []).append(shape)
    return found


def name_of(label: TDF_Label) -> str:
    name = TDataStd_Name()
    assert label.FindAttribute(TDataStd_Name.GetID_s(), name)
    return name.Get().ToExtString()
