"""The body: what is measured of it, the sizes of tables, and a picture of where the tape runs."""
