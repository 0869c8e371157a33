# The build record: what was found, decided and done, how it is undone, and what its figures rest on. Only what American English says otherwise.

colour-match = { $near } (difference { $difference } ± { $doubt } by CIEDE2000, as photographed)
    .lead = Color aimed at and reached, { $on }
source-movement = Movement of wood: Wood Handbook, FPL-GTR-190 (2010), table 13-5; for woods of Europe DIN 68100
source-colour = Color: ISO/CIE 11664-6
heading-mixes = colors, to match them again
