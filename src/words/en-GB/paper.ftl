# Headings of the papers.

heading-piece = the piece
heading-level = how far the work went
heading-counts = in short
heading-not-original = not original, or not known to be
heading-patches = patches and losses
heading-repairs = earlier repairs
heading-original = original, as far as is known
heading-fixings = fixings and glues that are not original
heading-finishes = finishes removed and applied
heading-tests-made = tests that were made
heading-tests-not-made = tests that were not made
heading-undone = left unmended, and why
heading-faults = remaining faults
heading-mended = faults that were mended
heading-failures = work that failed, or turned out in part
heading-open = still open
heading-unknown = not known
heading-given = what comes with it
