"""Words for where a value comes from when no text can be named."""

COMMON_PRACTICE = "common practice, no source"
