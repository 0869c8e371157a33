# What the words of a record mean, in plain English. The part before the first hyphen is the key, the rest its word.

standing-original = original
standing-old-repair = old repair
standing-later = later
standing-salvaged = salvaged
standing-new = new
standing-removed = removed
standing-missing = missing
standing-unknown = not known

level-stabilise = Present damage was stopped, and nothing more was done
    .lead = { done-stabilise }
level-restore = It was brought back to a known earlier look or use
    .lead = { done-restore }
level-repair = It was made sound and usable; looks came second
    .lead = { done-repair }
level-refurbish = It was made good for use today
    .lead = { done-refurbish }
level-refinish = The surface coating was removed and renewed
    .lead = { done-refinish }
level-adapt = It was changed for another use
    .lead = { done-adapt }
level-unknown = How far the work went is not known
    .lead = { done-unknown }
level-nothing = What was done to it is not recorded

# In a word, as it stands on a label.
done-stabilise = Stabilised
done-restore = Restored
done-repair = Repaired
done-refurbish = Refurbished
done-refinish = Refinished
done-adapt = Adapted
done-unknown = Worked on
done-nothing = What was done is not recorded

severity-trace = a trace
severity-minor = minor
severity-moderate = moderate
severity-major = major
severity-unknown = how serious is not known

confidence-low = a guess
confidence-fair = more likely than not
confidence-high = hardly in doubt
confidence-unknown = how sure is not known

outcome-well = turned out as intended
outcome-partly = turned out only in part
outcome-failed = failed
outcome-unknown = how it turned out is not known

why-not-needed = no mending was needed
why-would-cost-original = mending it would have cost original material
why-no-part = no fitting part could be found
why-no-skill = it is beyond this workshop's skill or tools
why-not-worth = it would have cost more than it gives
why-unsafe = opening it up would have done harm
why-too-worn = nothing sound is left to fix to
why-unknown = the reason was not recorded

build-solid = solid
build-veneered = veneered
build-panel = panel
build-turned = turned
build-bent = bent
build-metal = metal
build-glass = glass
build-stone = stone
build-textile = textile
build-leather = leather
build-unknown = build not known

held-free = free to swell and shrink
held-fixed-across = held fast across the grain
held-unknown = how it is held is not known
