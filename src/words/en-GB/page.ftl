# What stands on pages alone: the showroom's and the buyer's front.

# Every page
to-content = Skip to the text
packs-are-signed = Packs are signed with the key
