# SPDX-License-Identifier: GPL-3.0-or-later
"""What the motors of this folder are put together from, and the closed forms by which their answers
were worked out by hand. Invented jobs, all of them.

Nothing here asks the program: steady pressure is that of a balance of masses, P^(1 - n) = Kn density
c* a (Sutton & Biblarz, Rocket Propulsion Elements, chapter on solid propellants), areas are those of
plain geometry."""

import math

OUTER = 0.0463  # m, of the grain in PIPE: bore 50 - 2 x 1.6 - 0.5 mm
DENSITY, C_STAR = 1889 * 0.95, 919.0  # kn-sucrose, as shipped
RATE, EXPONENT = 8.26e-3, 0.319       # m/s at 1 MPa


def steady(kn, rate=RATE, exponent=EXPONENT, density=DENSITY, c_star=C_STAR, at=1e6):
    """Pa, of burning area / throat area."""
    return at * (kn * density * c_star * rate / at) ** (1 / (1 - exponent))


def kn(count, length, core, throat, web=0.0, outer=OUTER, ends=2):
    """Of equal segments with round cores after some web is burned, m."""
    bore, left = core + 2 * web, length - ends * web
    face = math.pi / 4 * (outer**2 - bore**2)
    return count * (math.pi * bore * left + ends * face) / (math.pi / 4 * throat**2)


def peak(count, length, core, throat, outer=OUTER, ends=2, **law):
    """Pa, the highest over the burn."""
    web = min((outer - core) / 2, length / max(ends, 1e-9))
    return max(steady(kn(count, length, core, throat, web * i / 400, outer, ends), **law)
               for i in range(400))


def mach(area_ratio, gamma=1.133):
    """Subsonic, of area / sonic area of a perfect gas (Shapiro, chapter on flow with area change)."""
    def ratio(m):
        half = (gamma - 1) / 2
        return ((1 + half * m * m) / (1 + half)) ** ((gamma + 1) / (2 * (gamma - 1))) / m
    low, high = 1e-6, 1.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if ratio(middle) > area_ratio else (low, middle)
    return low


def hoop(yield_stress, bore=0.05, wall=0.004):
    """Pa, at which the bore of a tube yields by its greatest shear stress (Lame; Timoshenko)."""
    outer = bore / 2 + wall
    return yield_stress / 2 * (1 - (bore / 2 / outer) ** 2)


def job(title, *tables):
    return f'[job]\ntitle = "{title}"\nunits = "si"\n\n' + "\n".join(tables)


ROOM = """[casing]
bore = "50 mm"
wall = "4 mm"
grain_room = "300 mm"
tube_wall = "1.6 mm"
fit = "0.5 mm"
"""
SUCROSE = '[propellant]\nname = "kn-sucrose"\n'
CALM_DAY = '[day]\ntemperature = "20 degC"\n'
SHOP = '[shop]\nspacer = "2 mm"\nmandrels = ["25 mm"]\nthroats = ["14 mm"]\n'
CEILING = '[limits]\npressure = "8 MPa"\n'
FACTOR = "[limits]\nfactor = 2\n"


def pipe(material="aluminium-6061-t6"):
    return ROOM + f'material = "{material}"\n'


def closure(where, thickness, depth, pins=8, pin="stainless-a2-70"):
    return f"""[closure.{where}]
joint = "screwed"
material = "aluminium-6061-t6"
thickness = "{thickness}"
protection = [["paper-phenolic", "5 mm"]]
pins = {pins}
pin_diameter = "5 mm"
pin_pitch = "0.8 mm"
pin_material = "{pin}"
pin_depth = "{depth}"
pin_reach = "12 mm"
end_distance = "15 mm"
"""


HEAD = closure("head", "25 mm", "12 mm")
SEAT = closure("nozzle", "30 mm", "15 mm")


def metal(yield_stress, more='strength_at = [["25 degC", 1], ["150 degC", 0.8]]'):
    """A tube of the builder's, as strong as this and no stronger."""
    return f"""[[material]]
name = "scrap tube"
source = "three lengths, burst with water (invented)"
conductivity = "167 W/m-K"
density = "2700 kg/m3"
specific_heat = "896 J/kg-K"
yield = "{yield_stress}"
ultimate = "{yield_stress}"
shear = "{yield_stress}"
bearing = "{yield_stress}"
{more}
"""


def nozzle(throat, more=""):
    return f'[nozzle]\nthroat = "{throat}"\nefficiency = 0.85\n{more}\n'


def segments(count=3, length="80 mm", core='"25 mm"', more="", outer=""):
    return (f'[[segment]]\ncount = {count}\nlength = "{length}"\ncore = {core}\n'
            + (f'outer_diameter = "{outer}"\n' if outer else "") + more + "\n")


def own(law, more='temperature_sensitivity = "0.2 %/K"\n', flame=True, ratio=0.95):
    """An own propellant, as dense and as hot as sucrose."""
    heat = 'flame_temperature = "1720 K"\nmolar_mass = "41.98 g/mol"\n' if flame else ""
    return f"""[propellant]
name = "batch 7"
density = "1.889 g/cm3"
density_ratio = {ratio}
characteristic_velocity = "919 m/s"
gamma = 1.133
expansion_gamma = 1.044
{heat}{more}
[[propellant.law]]
{law}
"""


LAW = 'rate = "8.26 mm/s"\nat = "1 MPa"\nn = 0.319\n'
EROSION = "[propellant.erosion]\nalpha = 2e-5\nbeta = 53\n"


def airframe(mass, rail="2 m"):
    return f"""[airframe]
mass = "{mass}"
motor_hardware = "0.8 kg"
diameter = "60 mm"
drag_coefficient = 0.5
rail_length = "{rail}"
"""
