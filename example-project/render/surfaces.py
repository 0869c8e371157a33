"""Materials: wood, paint, cord, plaster, metal, all computed and none photographed.

A surface is described by three things: colour (linear), roughness, and a height
in metres for the small relief. `Nodes` is a thin hand for writing such
descriptions as formulas.
"""

import bpy


class Nodes:
    """Writes shader nodes as expressions; every method returns an output socket."""

    def __init__(self, tree):
        self.tree = tree

    def node(self, kind, **settings):
        node = self.tree.nodes.new("ShaderNode" + kind)
        for key, value in settings.items():
            setattr(node, key, value)
        return node

    def put(self, value, socket):
        if isinstance(value, bpy.types.NodeSocket):
            self.tree.links.new(value, socket)
        elif isinstance(value, (tuple, list)) and socket.type == "RGBA" and len(value) == 3:
            socket.default_value = (*value, 1.0)
        else:
            socket.default_value = value

    def math(self, operation, a, b=0.0, c=0.0, clamp=False):
        node = self.node("Math", operation=operation, use_clamp=clamp)
        for value, socket in zip((a, b, c), node.inputs):
            self.put(value, socket)
        return node.outputs[0]

    def vector(self, operation, a, b=(0.0, 0.0, 0.0)):
        node = self.node("VectorMath", operation=operation)
        self.put(a, node.inputs[0])
        self.put(b, node.inputs[1])
        return node.outputs["Value" if operation in ("LENGTH", "DISTANCE", "DOT_PRODUCT") else "Vector"]

    def split(self, vector):
        node = self.node("SeparateXYZ")
        self.put(vector, node.inputs[0])
        return node.outputs[0], node.outputs[1], node.outputs[2]

    def join(self, x, y, z):
        node = self.node("CombineXYZ")
        for value, socket in zip((x, y, z), node.inputs):
            self.put(value, socket)
        return node.outputs[0]

    def noise(self, vector, scale=1.0, detail=2.0, roughness=0.5):
        node = self.node("TexNoise")
        self.put(vector, node.inputs["Vector"])
        self.put(scale, node.inputs["Scale"])
        node.inputs["Detail"].default_value = detail
        node.inputs["Roughness"].default_value = roughness
        return node.outputs["Fac"]

    def cells(self, vector, scale=1.0, feature="F1", output="Distance"):
        node = self.node("TexVoronoi", feature=feature)
        self.put(vector, node.inputs["Vector"])
        node.inputs["Scale"].default_value = scale
        return node.outputs[output]

    def step(self, value, low, high):
        """0 below `low`, 1 above `high`, smooth between (or the reverse when low > high)."""
        node = self.node("MapRange", interpolation_type="SMOOTHSTEP")
        low, high, ends = (low, high, (0.0, 1.0)) if low <= high else (high, low, (1.0, 0.0))
        for v, name in ((value, "Value"), (low, "From Min"), (high, "From Max"),
                        (ends[0], "To Min"), (ends[1], "To Max")):
            self.put(v, node.inputs[name])
        return node.outputs[0]

    def mix(self, amount, a, b, blend="MIX"):
        node = self.node("Mix", data_type="RGBA", blend_type=blend)
        self.put(amount, node.inputs[0])
        self.put(a, node.inputs[6])
        self.put(b, node.inputs[7])
        return node.outputs[2]

    def blend(self, amount, a, b):
        """Between two numbers."""
        node = self.node("Mix", data_type="FLOAT")
        self.put(amount, node.inputs[0])
        self.put(a, node.inputs[2])
        self.put(b, node.inputs[3])
        return node.outputs[0]

    def shade(self, colour, factor):
        """Multiply a colour by a number."""
        return self.mix(1.0, colour, self.join(factor, factor, factor), "MULTIPLY")

    def place(self):
        """The point in the shape's own coordinates, metres."""
        return self.node("TexCoord").outputs["Object"]

    def stored(self, name, output="Fac"):
        return self.node("Attribute", attribute_name=name).outputs[output]

    def edge_distance(self):
        """How far the point lies from the nearest edge of its board, metres."""
        half = self.stored("half", "Vector")
        inside = self.vector("SUBTRACT", half, self.vector("ABSOLUTE", self.place()))
        a, b, c = self.split(inside)
        larger = lambda p, q: self.math("MAXIMUM", p, q)
        smaller = lambda p, q: self.math("MINIMUM", p, q)
        return smaller(smaller(larger(a, b), larger(b, c)), larger(a, c))


def material(name, describe, mean=None, metal=0.0, coat=0.0, shine=0.5):
    """The material of that name, made on first use from `describe(nodes)`; `shine` 0 is dead matt.

    Light that has bounced off something else meets only the `mean` colour: the
    eye cannot tell, and the formulas need not be worked out for every bounce.
    """
    found = bpy.data.materials.get(name)
    if found:
        return found
    made = bpy.data.materials.new(name)
    made.use_nodes = True
    tree = made.node_tree
    tree.nodes.clear()
    n = Nodes(tree)
    colour, roughness, height = describe(n)
    surface = n.node("BsdfPrincipled")
    n.put(colour, surface.inputs["Base Color"])
    n.put(roughness, surface.inputs["Roughness"])
    surface.inputs["Metallic"].default_value = metal
    surface.inputs["Specular IOR Level"].default_value = shine
    surface.inputs["Coat Weight"].default_value = coat
    surface.inputs["Coat Roughness"].default_value = 0.25
    if height is not None:
        bump = n.node("Bump")
        bump.inputs["Distance"].default_value = 1.0
        n.put(height, bump.inputs["Height"])
        n.put(bump.outputs[0], surface.inputs["Normal"])
    output = n.node("OutputMaterial").inputs[0]
    if mean is None:
        n.put(surface.outputs[0], output)
        return made
    rough_copy = n.node("BsdfDiffuse")
    n.put(mean, rough_copy.inputs["Color"])
    choice = n.node("MixShader")
    n.put(n.node("LightPath").outputs["Is Camera Ray"], choice.inputs[0])
    n.put(rough_copy.outputs[0], choice.inputs[1])
    n.put(surface.outputs[0], choice.inputs[2])
    n.put(choice.outputs[0], output)
    return made


def plain(name, colour, roughness=0.5, metal=0.0, shine=0.5):
    return material(name, lambda n: (colour, roughness, None), metal=metal, shine=shine)


def grain(n, light, dark, spacing=0.0035, pores=0.5, figure=1.0, strips=0.0, seam=0.37, place=None, shift=0.0):
    """The figure of a board sawn from a log whose heart lies somewhere behind it.

    Year rings are circles about that heart, `spacing` apart, which wander along
    the board; sawing through them gives cathedrals on the face and arcs on the
    end by itself. `strips` is the width of the boards a panel is glued up from, `seam` how far
    past the middle, in boards, one of their joints lies. `place` and `shift` make another board
    of the same wood. Returns colour and the height of the fibre.
    """
    x, y, z = n.split(place or n.place())
    seed = n.stored("seed")
    if shift:
        seed = n.math("FRACT", n.math("ADD", seed, shift))
    if strips:
        strip = n.math("FLOOR", n.math("DIVIDE", n.math("ADD", y, strips * (40 + seam)), strips))
        seed = n.math("FRACT", n.math("ADD", seed, n.math("MULTIPLY", strip, 0.3819)))
    chance = lambda k: n.math("FRACT", n.math("MULTIPLY", seed, k))
    shifted = n.vector("ADD", n.join(x, y, z), n.join(
        n.math("MULTIPLY", seed, 17.0), n.math("MULTIPLY", seed, 31.0), n.math("MULTIPLY", seed, 43.0)))

    wander = n.noise(n.vector("MULTIPLY", shifted, (1.1, 5.0, 5.0)), 1.0, 1.0)
    heart_y = n.math("MULTIPLY", n.math("SUBTRACT", chance(7.31), 0.5), 0.24)
    heart_z = n.math("SUBTRACT", -0.04, n.math("MULTIPLY", chance(13.7), 0.10))
    across = n.math("SUBTRACT", y, heart_y)
    deep = n.math("SUBTRACT", z, heart_z)
    radius = n.math("SQRT", n.math("ADD", n.math("MULTIPLY", across, across), n.math("MULTIPLY", deep, deep)))
    radius = n.math("ADD", radius, n.math("MULTIPLY", n.math("SUBTRACT", wander, 0.5), 0.07 * figure))
    year = n.math("FRACT", n.math("DIVIDE", radius, spacing))
    late = n.math("MULTIPLY", n.step(year, 0.05, 0.8), n.step(year, 1.0, 0.86))

    fibre = n.noise(n.vector("MULTIPLY", shifted, (14.0, 620.0, 620.0)), 1.0, 1.0, 0.65)
    fine = n.noise(n.vector("MULTIPLY", shifted, (70.0, 2600.0, 2600.0)), 1.0, 0.0, 0.6)
    broad = n.noise(n.vector("MULTIPLY", shifted, (1.5, 16.0, 16.0)), 1.0, 1.0)
    colour = n.mix(n.math("MULTIPLY", late, 0.75), light, dark)
    # Pores are short dark dashes, thickest in the early wood.
    pore = n.math("MULTIPLY", n.step(n.math("MULTIPLY_ADD", fine, 0.55, n.math("MULTIPLY", fibre, 0.45)), 0.47, 0.36),
                  pores)
    pore = n.math("MULTIPLY", pore, n.blend(late, 1.0, 0.55))
    colour = n.mix(pore, colour, n.shade(n.mix(0.0, dark, dark), 0.45))
    tone = n.math("MULTIPLY_ADD", broad, 0.5, 0.75)
    tone = n.math("MULTIPLY", tone, n.math("MULTIPLY_ADD", chance(29.3), 0.28, 0.86))
    tone = n.math("MULTIPLY", tone, n.math("MULTIPLY_ADD", fibre, 0.22, 0.89))
    tone = n.math("MULTIPLY", tone, n.math("MULTIPLY_ADD", fine, 0.20, 0.90))
    height = n.math("MULTIPLY", pore, -0.00012)
    return n.shade(colour, tone), height


# Linear colours of the woods: earlywood, latewood, distance of year rings, how strong the pores show.
WOODS = {
    "oak-bare": dict(light=(0.53, 0.36, 0.21), dark=(0.40, 0.25, 0.13), spacing=0.0034, pores=0.45),
    "oak-mid": dict(light=(0.245, 0.124, 0.046), dark=(0.145, 0.067, 0.023), spacing=0.0034, pores=0.6),
    "oak-dirty": dict(light=(0.135, 0.098, 0.068), dark=(0.085, 0.060, 0.041), spacing=0.0034, pores=0.6),
    "oak-mid-pale": dict(light=(0.42, 0.25, 0.12), dark=(0.30, 0.16, 0.07), spacing=0.0034, pores=0.55),
    "pine-new": dict(light=(0.72, 0.50, 0.28), dark=(0.55, 0.30, 0.13), spacing=0.0060, pores=0.06),
    "pine-old": dict(light=(0.40, 0.25, 0.125), dark=(0.26, 0.135, 0.058), spacing=0.0060, pores=0.10),
    "pine-weathered": dict(light=(0.22, 0.145, 0.082), dark=(0.145, 0.085, 0.043), spacing=0.0060, pores=0.25),
    "pine-floor": dict(light=(0.245, 0.165, 0.098), dark=(0.165, 0.102, 0.055), spacing=0.0055, pores=0.2),
    "ash-dark": dict(light=(0.105, 0.058, 0.030), dark=(0.060, 0.031, 0.016), spacing=0.0040, pores=0.4),
    "ash-clean": dict(light=(0.255, 0.138, 0.056), dark=(0.158, 0.078, 0.030), spacing=0.0040, pores=0.4),
    "elm-dull": dict(light=(0.30, 0.185, 0.098), dark=(0.20, 0.112, 0.054), spacing=0.0048, pores=0.45),
    "elm-waxed": dict(light=(0.36, 0.195, 0.088), dark=(0.235, 0.115, 0.046), spacing=0.0048, pores=0.45),
    "walnut": dict(light=(0.118, 0.060, 0.027), dark=(0.062, 0.030, 0.0145), spacing=0.0071, pores=0.5),
    "walnut-bare": dict(light=(0.170, 0.110, 0.068), dark=(0.110, 0.068, 0.041), spacing=0.0071, pores=0.5),
    "maple": dict(light=(0.66, 0.50, 0.33), dark=(0.55, 0.39, 0.24), spacing=0.0045, pores=0.06),
    "beech-worn": dict(light=(0.30, 0.195, 0.112), dark=(0.235, 0.145, 0.078), spacing=0.0040, pores=0.3),
    "birch": dict(light=(0.68, 0.52, 0.34), dark=(0.60, 0.43, 0.26), spacing=0.0110, pores=0.05),
}


def mean_of(species):
    """The colour of a wood seen from far away."""
    kind = WOODS[species]
    return tuple((0.6 * a + 0.4 * b) * 0.88 for a, b in zip(kind["light"], kind["dark"]))


def wood(species, roughness=0.5, strips=0.0, figure=1.0, coat=0.0, dirt=0.0):
    """A plain wooden surface; `dirt` (0 to 1) lays patchy grime over it."""
    def describe(n):
        # The relief of the pores is left out: at this distance only their colour shows.
        colour, _ = grain(n, strips=strips, figure=figure, **WOODS[species])
        rough = roughness
        if dirt:
            stretched = n.vector("MULTIPLY", n.place(), (3.0, 14.0, 14.0))
            grime = n.noise(n.vector("ADD", stretched, n.vector("MULTIPLY", n.stored("seed", "Vector"),
                                                                (31.0, 31.0, 31.0))), 1.0, 3.0, 0.68)
            grime = n.math("MULTIPLY", n.step(grime, 0.40, 0.70), dirt)
            colour = n.mix(grime, colour, (0.045, 0.036, 0.027))
            rough = n.blend(grime, roughness, 0.85)
        return colour, rough, None
    return material(f"{species} {roughness} {strips} {figure} {coat} {dirt}", describe, mean_of(species), coat=coat)


def plywood(layers=9, thick=0.018):
    """Birch plywood: the layers show wherever an edge is cut."""
    def describe(n):
        colour, height = grain(n, figure=1.6, **WOODS["birch"])
        _, _, z = n.split(n.place())
        layer = n.math("FLOOR", n.math("MULTIPLY", n.math("ADD", z, thick / 2), layers / thick * 0.9999))
        cross = n.math("MODULO", layer, 2.0)
        fleck = n.noise(n.vector("MULTIPLY", n.place(), (160.0, 160.0, 30.0)), 3.0, 2.0)
        inner = n.mix(n.step(fleck, 0.35, 0.65), (0.33, 0.20, 0.105), (0.24, 0.135, 0.066))
        return n.mix(cross, colour, inner), 0.55, height
    return material(f"plywood {layers} {thick}", describe, mean_of("birch"))


def chipboard():
    def describe(n):
        place = n.vector("MULTIPLY", n.place(), (1.0, 1.0, 1.6))
        chip = n.cells(place, 210.0, output="Color")
        shade, _, _ = n.split(chip)
        colour = n.mix(shade, (0.52, 0.36, 0.20), (0.27, 0.165, 0.08))
        stain = n.noise(n.place(), 9.0, 4.0, 0.6)
        colour = n.mix(n.math("MULTIPLY", n.step(stain, 0.45, 0.75), 0.55), colour, (0.12, 0.085, 0.055))
        return colour, 0.8, n.math("MULTIPLY", shade, 0.0003)
    return material("chipboard", describe, (0.30, 0.2, 0.11))


def plaster(name="plaster", colour=(0.60, 0.555, 0.48)):
    def describe(n):
        place = n.node("TexCoord").outputs["Object"]
        cloud = n.noise(place, 1.6, 3.0, 0.6)
        trowel = n.noise(place, 9.0, 2.0, 0.6)
        tone = n.math("ADD", n.math("MULTIPLY_ADD", cloud, 0.30, 0.74), n.math("MULTIPLY", trowel, 0.16))
        return n.shade(n.mix(0.0, colour, colour), tone), 0.9, None
    return material(name, describe, colour)


def iron():
    def describe(n):
        rust = n.noise(n.place(), 60.0, 4.0, 0.65)
        colour = n.mix(n.step(rust, 0.45, 0.70), (0.030, 0.028, 0.027), (0.095, 0.045, 0.025))
        return colour, 0.62, n.math("MULTIPLY", rust, 0.0006)
    return material("iron", describe, metal=0.35)


def steel():
    return plain("steel", (0.42, 0.42, 0.43), 0.35, metal=1.0)


def black_iron():
    return plain("black iron", (0.03, 0.03, 0.033), 0.45, metal=0.6)


def outside():
    """What a window shows when the room is exposed for: bright sky over a dim hedge, out of focus."""
    found = bpy.data.materials.get("outside")
    if found:
        return found
    made = bpy.data.materials.new("outside")
    made.cycles.emission_sampling = "NONE"
    made.use_nodes = True
    made.node_tree.nodes.clear()
    n = Nodes(made.node_tree)
    x, y, _ = n.split(n.place())
    leaves = n.noise(n.place(), 5.0, 3.0, 0.6)
    hedge = n.step(n.math("ADD", y, n.math("MULTIPLY", leaves, 0.5)), -0.02, 0.16)
    light = n.node("Emission")
    n.put(n.mix(hedge, (0.30, 0.36, 0.24), (0.86, 0.93, 1.0)), light.inputs["Color"])
    n.put(n.blend(hedge, 1.1, 3.2), light.inputs["Strength"])
    n.put(light.outputs[0], n.node("OutputMaterial").inputs[0])
    return made


def weave(name, colour):
    """Plain woven cloth."""
    def describe(n):
        x, y, _ = n.split(n.place())
        threads = n.math("MULTIPLY", n.math("SINE", n.math("MULTIPLY", x, 4200.0)),
                         n.math("SINE", n.math("MULTIPLY", y, 4200.0)))
        cloud = n.noise(n.place(), 14.0, 3.0, 0.6)
        return n.shade(n.mix(0.0, colour, colour), n.math("MULTIPLY_ADD", threads, 0.08,
                                                          n.math("MULTIPLY_ADD", cloud, 0.4, 0.75))), 0.95, None
    return material(f"weave {name} {colour}", describe, colour, shine=0.1)


def bottle(name, colour=(0.060, 0.026, 0.010)):
    """Dark bottle glass: nothing behind it can be made out, so it is a gloss over a colour."""
    return material(name, lambda n: (colour, 0.12, None), coat=0.6)


def brass(name="brass", colour=(0.50, 0.33, 0.12), roughness=0.34):
    """Old brass: brownish in its hollows, brighter where it is handled."""
    def describe(n):
        tarnish = n.noise(n.place(), 70.0, 4.0, 0.6)
        dull = n.step(tarnish, 0.42, 0.68)
        return n.mix(n.math("MULTIPLY", dull, 0.6), colour, (0.13, 0.075, 0.028)), n.blend(dull, roughness, 0.55), None
    return material(name, describe, metal=0.9)


def cord(name, light, dark):
    """Twisted cord: two strands, drawn by a spiral along the cord."""
    def describe(n):
        spiral = n.math("ADD", n.math("MULTIPLY", n.stored("along"), 520.0),
                        n.math("MULTIPLY", n.stored("around"), 2.0))
        strand = n.math("MULTIPLY_ADD", n.math("SINE", spiral), 0.5, 0.5)
        hair = n.noise(n.place(), 420.0, 3.0, 0.7)
        patch = n.noise(n.place(), 14.0, 3.0)
        amount = n.math("ADD", n.math("MULTIPLY", n.math("SUBTRACT", 1.0, strand), 0.6),
                        n.math("MULTIPLY", hair, 0.45))
        colour = n.shade(n.mix(amount, light, dark), n.math("MULTIPLY_ADD", patch, 0.7, 0.65))
        return colour, 0.85, n.math("MULTIPLY", strand, 0.0009)
    return material(name, describe, tuple((a + b) / 2 for a, b in zip(light, dark)))


def spot(n, centre, radii, wobble=0.3, scale=40.0, edge=(1.0, 0.7)):
    """A blot on a board's face: 1 inside, 0 outside, its border uneven."""
    x, y, _ = n.split(n.place())
    dx = n.math("DIVIDE", n.math("SUBTRACT", x, centre[0]), radii[0])
    dy = n.math("DIVIDE", n.math("SUBTRACT", y, centre[1]), radii[1])
    far = n.math("SQRT", n.math("ADD", n.math("MULTIPLY", dx, dx), n.math("MULTIPLY", dy, dy)))
    rough = n.math("MULTIPLY", n.math("SUBTRACT", n.noise(n.place(), scale, 4.0, 0.6), 0.5), 2 * wobble)
    return n.step(n.math("ADD", far, rough), *edge)


def ring(n, centre, radius, width):
    """The broken ring a wet cup leaves."""
    x, y, _ = n.split(n.place())
    dx, dy = n.math("SUBTRACT", x, centre[0]), n.math("SUBTRACT", y, centre[1])
    far = n.math("SQRT", n.math("ADD", n.math("MULTIPLY", dx, dx), n.math("MULTIPLY", dy, dy)))
    off = n.math("ABSOLUTE", n.math("SUBTRACT", far, radius))
    uneven = n.noise(n.place(), 30.0, 3.0)
    line = n.step(off, width, width * 0.2)
    return n.math("MULTIPLY", line, n.step(uneven, 0.36, 0.60))


def painted(name, base, paint, wear, edge, roughness=0.6, thick=0.0004, flakes=True, tint=None):
    """Paint over wood, worn through.

    `wear` is the share of noise that goes through to the wood (0 none, 1 all);
    `edge` is how many metres in from an edge the rubbing reaches. `tint` is an
    older paint that shows around each bare patch.
    """
    def describe(n):
        under, height = grain(n, **WOODS[base])
        seed = n.vector("MULTIPLY", n.stored("seed", "Vector"), (9.0, 9.0, 9.0))
        place = n.vector("ADD", n.place(), seed)
        near_edge = n.step(n.edge_distance(), edge, 0.0)
        big = n.noise(n.vector("MULTIPLY", place, (4.0, 9.0, 9.0)), 1.0, 6.0, 0.62)
        small = n.noise(n.vector("MULTIPLY", place, (45.0, 110.0, 110.0)), 1.0, 3.0, 0.6)
        worn = n.math("ADD", n.math("MULTIPLY_ADD", small, 0.22, -0.11), big)
        worn = n.math("ADD", worn, n.math("MULTIPLY", near_edge, 0.24))
        if flakes:
            # Old paint cracks along the grain and lets go cell by cell.
            cell = n.cells(n.vector("MULTIPLY", place, (62.0, 190.0, 190.0)), 1.0, output="Color")
            luck, _, _ = n.split(cell)
            worn = n.math("ADD", worn, n.math("MULTIPLY_ADD", luck, 0.16, -0.08))
        limit = 0.80 - 0.36 * wear
        soft = 0.008 if flakes else 0.05
        bare = n.step(worn, limit, limit + soft)
        tone = n.math("MULTIPLY_ADD", big, 0.5, 0.75)
        coat = n.shade(n.mix(0.0, paint, paint), tone)
        if tint:
            coat = n.mix(n.step(worn, limit - 0.07, limit - 0.055), coat, tint)
        if flakes:
            crack = n.cells(n.vector("MULTIPLY", place, (62.0, 190.0, 190.0)), 1.0, "DISTANCE_TO_EDGE")
            coat = n.mix(n.math("MULTIPLY", n.step(crack, 0.05, 0.0), 0.7), coat, (0.03, 0.027, 0.02))
        colour = n.mix(bare, coat, under)
        relief = n.math("ADD", n.math("MULTIPLY", bare, -thick), height)
        return colour, n.blend(bare, roughness, 0.75), relief
    return material(name, describe, paint)
