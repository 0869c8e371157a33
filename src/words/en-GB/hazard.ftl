# Cautions for the bench and for whoever opens the piece up again. The buyer's are claims, in `substance.ftl`.

hazard-usual-practice = This is usual practice on the day it was written down, and no legal advice: rules change and differ from place to place. Local codes and licensed trades decide.
hazard-no-region = The rules of single countries are left out: `workshop.toml` names no region.
region-all = Everywhere
region-united-kingdom = United Kingdom
region-european-union = European Union
region-united-kingdom-and-europe = United Kingdom and European Union
region-united-states = United States
from-memory = { $source }, from memory

# Why it is told: `things` are all of one kind
because-applied = applied: { $things }
because-lies = on it today: { $things }
because-coat = found on it, or told of it: { $things }
because-abraded = abraded: { $things }
because-used = the work names { $things }
because-part = part: { $things }
because-fixing = fixing: { $things }
because-timber = timber, with its appendix in the convention on endangered species as recalled: { $things }
because-finding = seen: { $things }

because-kind = it follows from the kind of piece
because-height = it stands { $height } high
because-height-not-recorded = pieces of its kind can be tall, and its height is not recorded
because-tested = a test for it is recorded
finish-on-surface = { $finish } ({ $surface })
timber-in-appendix = { $part } ({ $timber }, appendix { $appendix })
timber-perhaps-in-appendix = { $part } ({ $timber }, which may be a species of appendix { $appendix })
appendix-none = none

# What an old coat is called
coat-of-unknown-make = an old coat of unknown make
old-finish-of-unknown-make = an old finish of unknown make
coat-that-lay-there = what lay there before, which is not recorded
coat-old-paint = old paint
coat-old-paint-seen = old paint, seen as “{ $seen }”
coat-old-paint-in-work = old paint, in the work “{ $did }”
coat-old = an old coat of { $name }
coat-old-called = an old coat, “{ $name }”
coat-at = { $coat } ({ $place })
coat-taken-off = { $coat } (taken off)
coat-at-taken-off = { $coat } ({ $place }; taken off)

# Tests
hazard-no-test = No test is recorded
hazard-tested = Tested: { $of }: { $result }
hazard-not-tested = Not tested: { $of }
hazard-tested-no-result = Tested: { $of }; no result is recorded
hazard-tested-not-known = Tested: { $of }; the result is not known
tested-on = { $of } ({ $parts })
tested-by = { $of } (by { $means })
tested-on-by = { $of } ({ $parts }; by { $means })
