# What stands in the archive alone.

archive-of = Archive of { $workshop }
