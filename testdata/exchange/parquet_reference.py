"""Reads table.parquet, written by crates/exchange/tests/parquet.rs, with pyarrow, and writes what it read to table.json.

pip install pyarrow
"""

import json
from pathlib import Path

import pyarrow.parquet

here = Path(__file__).parent
table = pyarrow.parquet.read_table(here / "table.parquet")
read = {"types": [str(kind) for kind in table.schema.types], "columns": table.to_pydict()}
(here / "table.json").write_text(json.dumps(read, ensure_ascii=False, indent=1) + "\n")
