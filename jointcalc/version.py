"""The version of jointcalc, kept here so that no quick command has to ask the package metadata."""

VERSION = "0.1.0"
