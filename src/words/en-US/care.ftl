# How a piece is looked after. `lead` is what a line begins with and is found by. Only what American English says otherwise.

agent-hydrocarbon = mineral spirits or turpentine
    .cell = mineral spirits
room-mould = Above { $percent } % mold can grow
