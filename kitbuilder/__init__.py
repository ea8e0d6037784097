"""kitbuilder: YAML unit definitions in, print-ready phonics kits out."""
