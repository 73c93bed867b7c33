"""Tests of the dossier."""
