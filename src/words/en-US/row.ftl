# Rows of the papers: parts, fixings, findings, work, tests, surfaces with their layers and steps. Only what American English says otherwise.

lies-colour = color
lacks-swatch = { $count ->
    [one] { $count } color match
   *[other] { $count } color matches
 }
