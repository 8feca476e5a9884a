"""Reading, locating, decoding and writing files.

- `located`: `read_located(path)`, `locate(text, file=)`: YAML 1.2 to a tree of `MappingNode`, `SequenceNode` and `ScalarNode`; every value
  is still text and knows its line and column; what could do harm is refused first.
- `decode`: `decode(node, cls, file=)`: the tree to a dataclass of the model, or `JobError` with one located problem per mistake.
- `jobs`: `read_job(path)`, `job_from_text(text, file=)`, `write_job(job)`.
- `encode`: `encode(value)` to plain values for JSON, `encode_file(value, units=, fraction=)` to YAML that reads back as the same value.
- `schema`: `schema_of(cls, name)`: the JSON Schema of a dataclass.
- `edit`: `append_reading(text, reading)`, `set_values(text, values)`: the smallest change to a file that keeps comments and layout.
- `atomic`: `write_beside(path, data)`, `replace_folder(built, target)`: whole or not at all.
- `shape`: what may be written where, read off the dataclasses; shared by all of the above.
"""
