"""The one reader of YAML, CSV and XLSX, and the one writer.

`text` opens files; `yaml` and `tables` read them and know where each value stands, with `yaml_faults`, `columns`,
`separated` and `workbook` for what is special to each; `models` turns a YAML file into a pydantic model with every
fault at its place; `writing` writes all or nothing; `digests` names content.
"""
