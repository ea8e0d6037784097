"""kitbuilder: YAML unit definitions in, print-ready phonics kits out."""

__version__ = "0.1.0"
