"""The one reader of YAML, CSV and XLSX, and the one writer.

`text` opens files; `yaml` and `tables` read them and know where each value stands; `models` turns a YAML file
into a pydantic model with every fault at its place; `writing` writes all or nothing; `digests` names content.
"""
