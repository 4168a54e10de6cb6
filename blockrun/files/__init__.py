"""The one reader of YAML, CSV and XLSX, and the one writer.

`text` opens files; `yaml` and `tables` read them and know where each value stands, with `yaml_faults`, and `separated`
and `workbook` that make a `grid` of cells, some with `no_value`, in which `header` finds the names of its `columns`;
`models` turns a YAML file into a pydantic model with every fault at its place, a length without a unit answered by
`unit_meant`; `rewriting` puts new values into a YAML file and leaves all else of it as it is; `writing` writes all or
nothing; `digests` names content, `moments` reads a day and its time, and `day_names` says them.
"""
