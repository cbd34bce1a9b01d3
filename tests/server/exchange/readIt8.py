"""Reads a CGATS file from standard input with Little CMS's cmsIT8 and prints what it found as JSON.

Exit status 3 where the library is not installed (Debian: liblcms2-2); 1 where the library refuses the file, with its reason.
"""

import ctypes
import ctypes.util
import json
import sys

name = ctypes.util.find_library("lcms2") or "liblcms2.so.2"
try:
    lcms = ctypes.CDLL(name)
except OSError:
    sys.exit(3)

HANDLER = ctypes.CFUNCTYPE(None, ctypes.c_void_p, ctypes.c_uint32, ctypes.c_char_p)
complaints = []
handler = HANDLER(lambda context, code, text: complaints.append(text.decode("utf-8", "replace")))
lcms.cmsSetLogErrorHandler(handler)
lcms.cmsIT8LoadFromMem.restype = ctypes.c_void_p
lcms.cmsIT8LoadFromMem.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_uint32]

TEXTS = ctypes.POINTER(ctypes.c_char_p)
for function, result, arguments in [
    ("cmsIT8GetSheetType", ctypes.c_char_p, [ctypes.c_void_p]),
    ("cmsIT8GetProperty", ctypes.c_char_p, [ctypes.c_void_p, ctypes.c_char_p]),
    ("cmsIT8GetPropertyDbl", ctypes.c_double, [ctypes.c_void_p, ctypes.c_char_p]),
    ("cmsIT8GetPropertyMulti", ctypes.c_char_p, [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_char_p]),
    ("cmsIT8EnumProperties", ctypes.c_uint32, [ctypes.c_void_p, ctypes.POINTER(TEXTS)]),
    ("cmsIT8EnumDataFormat", ctypes.c_int, [ctypes.c_void_p, ctypes.POINTER(TEXTS)]),
    ("cmsIT8GetDataRowCol", ctypes.c_char_p, [ctypes.c_void_p, ctypes.c_int, ctypes.c_int]),
    ("cmsIT8GetDataRowColDbl", ctypes.c_double, [ctypes.c_void_p, ctypes.c_int, ctypes.c_int]),
]:
    getattr(lcms, function).restype = result
    getattr(lcms, function).argtypes = arguments

data = sys.stdin.buffer.read()
sheet = lcms.cmsIT8LoadFromMem(None, data, len(data))
if not sheet:
    print("; ".join(complaints), file=sys.stderr)
    sys.exit(1)


def text(value):
    return None if value is None else value.decode("utf-8")


names = TEXTS()
count = lcms.cmsIT8EnumProperties(sheet, ctypes.byref(names))
properties = {text(names[i]): text(lcms.cmsIT8GetProperty(sheet, names[i])) for i in range(count)}
columns = TEXTS()
width = lcms.cmsIT8EnumDataFormat(sheet, ctypes.byref(columns))
fields = [text(columns[i]) for i in range(width)]
rows = int(lcms.cmsIT8GetPropertyDbl(sheet, b"NUMBER_OF_SETS"))
print(
    json.dumps(
        {
            "sheetType": text(lcms.cmsIT8GetSheetType(sheet)),
            "properties": properties,
            "weighting": {
                key: text(lcms.cmsIT8GetPropertyMulti(sheet, b"WEIGHTING_FUNCTION", key.encode()))
                for key in ["ILLUMINANT", "OBSERVER"]
            },
            "fields": fields,
            "texts": [[text(lcms.cmsIT8GetDataRowCol(sheet, r, c)) for c in range(width)] for r in range(rows)],
            "numbers": [[lcms.cmsIT8GetDataRowColDbl(sheet, r, c) for c in range(width)] for r in range(rows)],
        }
    )
)
