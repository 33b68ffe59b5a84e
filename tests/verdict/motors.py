# SPDX-License-Identifier: GPL-3.0-or-later
"""Motors that must not be fired, motors that nobody can judge from what the job says, a few that are
fine, and jobs that must be refused. Each says why, from outside of this program; the bounds in `why`
are worked out in figures_test below, in closed form, not copied from an answer."""

import dataclasses
import math

import parts
from parts import (CALM_DAY, CEILING, EROSION, FACTOR, HEAD, LAW, ROOM, SEAT, SHOP, SUCROSE, airframe,
                   closure, job, metal, nozzle, own, pipe, segments)


@dataclasses.dataclass(frozen=True)
class Motor:
    name: str
    why: str
    answer: str  # "yes", "no", "unknown" or "refused"
    text: str
    broken: tuple = ()      # keys that must be among the reasons; of a no, all of them named here
    not_judged: tuple = ()
    assumed: tuple = ()
    planes: bool = True     # whether the axial model takes such cores
    judged: bool = True     # whether `margins` has all that it needs, where a material is known

    @property
    def material(self):
        return self.judged and "\nmaterial = " in self.text.partition("[casing]")[2].partition("\n[")[0]

    @property
    def flies(self):
        return "[airframe]" in self.text


def no(name, broken, why, *tables, **more):
    return Motor(name, why, "no", job(name, *tables), broken=tuple(broken.split()), **more)


def unknown(name, not_judged, why, *tables, **more):
    return Motor(name, why, "unknown", job(name, *tables), not_judged=tuple(not_judged.split()), **more)


def yes(name, why, *tables, **more):
    return Motor(name, why, "yes", job(name, *tables), **more)


def refused(name, why, *tables):
    return Motor(name, why, "refused", job(name, *tables))


def open_ports(throat="14 mm", core='"25 mm"', count=3, length="80 mm", more=""):
    """A whole motor with a typed ceiling and no material."""
    return (ROOM, SUCROSE, CALM_DAY, nozzle(throat), segments(count, length, core, more), SHOP, CEILING)


def shelled(tube=None, head=HEAD, seat=SEAT, limits=FACTOR, fuel=SUCROSE, more=""):
    """The same in a tube that is described."""
    return (tube or pipe(), fuel, CALM_DAY, nozzle("14 mm"), segments(), SHOP, limits, head, seat, more)


SCRAP = pipe("scrap tube")
WEARS = (ROOM, own('rate = "20 mm/s"\nat = "1 MPa"\nn = 0.3\n'), CALM_DAY,
         nozzle("16 mm", 'throat_growth = "8 mm/s"'), SHOP, '[limits]\npressure = "60 MPa"\n')

# A port narrower than the throat is the throat: area ratio under 1, from two circles or a drawing.
PORTS = (
    no("round port narrower than the throat", "nozzle.throat", "(12/14)^2 = 0.73",
       *open_ports(core='"12 mm"')),
    no("off-centre port narrower than the throat", "nozzle.throat",
       "(12/14)^2 = 0.73 wherever it lies", *open_ports(core='{ diameter = "12 mm", offset = "6 mm" }'),
       planes=False),
    no("cross narrower than the throat", "nozzle.throat",
       "two slots 22 by 4 mm with round ends: 153 mm2; a throat of 16 mm: 201 mm2",
       *open_ports("16 mm", '{ shape = "cross", length = "22 mm", width = "4 mm" }'), planes=False),
    no("drawn core narrower than the throat", "nozzle.throat",
       "a square of 10 mm: 100 mm2; a throat of 12 mm: 113 mm2",
       *open_ports("12 mm", '{ outline = "POLYGON ((-5 -5, 5 -5, 5 5, -5 5, -5 -5))" }'),
       planes=False),
    no("tapered core narrower than the throat at its nozzle end", "nozzle.throat",
       "(12/13)^2 = 0.85 where all gas has to pass",
       *open_ports("13 mm", '{ head = "14 mm", nozzle = "12 mm" }')),
    no("last of three ports narrower than the throat", "nozzle.throat", "(12/14)^2 in front of the nozzle",
       ROOM, SUCROSE, nozzle("14 mm"), segments(2), segments(1, core='"12 mm"'), SHOP, CEILING),
    no("solid head segment before a narrow port", "nozzle.throat",
       "(12/14)^2; a segment without a port must not hide it",
       ROOM, SUCROSE, nozzle("14 mm"), segments(1, "40 mm", "0", 'inhibited = ["outer", "head"]'),
       segments(2, core='"12 mm"'), SHOP,
       CEILING),
    no("three small round ports narrower than the throat", "nozzle.throat", "3 (7/14)^2 = 0.75",
       *open_ports(core='{ diameter = "7 mm", offset = "12 mm", count = 3 }'), planes=False),
    no("throat that wears wider than an inhibited port", "nozzle.throat",
       "the port stays (20/16)^2 = 1.56 at first; at 8 mm/s of wear the throat passes 20 mm within 0.5 s, "
       "and ends of 21 mm of web at 30 mm/s or less burn for longer", *WEARS, segments(
           6, "42 mm", '"20 mm"', 'inhibited = ["outer", "core"]')),
    no("throat that wears wider than an off-centre inhibited port", "nozzle.throat", "as above", *WEARS, segments(
        6, "42 mm", '{ diameter = "20 mm", offset = "5 mm" }', 'inhibited = ["outer", "core"]'), planes=False),
    no("throat ten times too large", "nozzle.throat", "140 mm in a pipe of 50 mm: a slip of the decimal point",
       *open_ports("140 mm")),
    no("end burner with a throat wider than its pipe", "nozzle.throat", "60 mm in a pipe of 50",
       ROOM, SUCROSE, CALM_DAY, nozzle("60 mm"), segments(1, "60 mm", "0", 'inhibited = ["outer", "head"]'),
       CEILING),
    no("ports at a bound of the job's", "limits.port_to_throat", "(25/20)^2 = 1.56, and 2 is asked",
       ROOM, SUCROSE, CALM_DAY, nozzle("20 mm"), segments(), SHOP,
       CEILING + "port_to_throat = 2.0\n"),
    no("mass flux at a bound of the job's", "limits.mass_flux",
       "P At / (c* Ap) = 3.4 MPa / 919 m/s / 3.19 = 1160 kg/(m2 s), and 1000 is asked",
       ROOM, SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP,
       CEILING + 'mass_flux = "1000 kg/m2-s"\n'),
    unknown("narrow port without erosion constants", "propellant.erosion",
            "(22/20)^2 = 1.21; common practice asks for 1.5 or more where erosion is not known",
            *open_ports("20 mm", '"22 mm"')),
    unknown("port Mach over 0.4", "propellant.erosion",
            "area ratio 1.56 is Mach 0.42 (Shapiro); common practice keeps to 0.4 or less",
            *open_ports("20 mm")),
    unknown("mass flux over two pounds", "propellant.erosion",
            "3.5 MPa / 919 m/s / (20/13)^2 = 1600 kg/(m2 s), over 2 lb/(s in2) = 1406; common practice",
            *open_ports("13 mm", '"20 mm"')),
    unknown("narrow off-centre port", "propellant.erosion",
            "(22/20)^2 = 1.21, and no model has erosion for such a core even with constants",
            ROOM, SUCROSE + EROSION, CALM_DAY, nozzle("20 mm"),
            segments(core='{ diameter = "22 mm", offset = "0.5 mm" }'), SHOP, CEILING, planes=False),
)

STRENGTH = (
    no("pipe at half its load under a typed ceiling", "limits.factor",
       "yields at 1.5 MPa (Lame), fired at 3.7", *shelled(SCRAP, limits=CEILING, more=metal("12 MPa"))),
    no("pipe at half its load without a ceiling", "limits.factor",
       "yields at 1.5 MPa (Lame), fired at 3.7", *shelled(SCRAP, limits="", more=metal("12 MPa"))),
    no("pipe at half its load, ceiling above what it holds", "limits.factor",
       "a ceiling of 8 MPa is typed; the pipe yields at 1.5",
       *shelled(SCRAP, limits=CEILING + "factor = 1\n", more=metal("12 MPa"))),
    no("pipe between one and the asked factor", "limits.factor", "5.1 MPa (Lame) / 3.7 = 1.4, and 2 is asked",
       *shelled(SCRAP, more=metal("40 MPa"))),
    no("ceiling from a weak pipe", "limits.factor limits.pressure", "5.1 MPa (Lame) / 2 is passed by 3.7",
       *shelled(SCRAP, limits='[limits]\npressure = "from strength"\nfactor = 2\n', more=metal("40 MPa"))),
    no("cold too weak, heat not known", "limits.factor",
       "the pipe yields at 1.5 MPa (Lame) cold; the gas's temperature is not given",
       *shelled(SCRAP, fuel=own(LAW, flame=False), more=metal("12 MPa")), judged=False),
    no("head closure with two screws", "limits.factor",
       "pi/4 50^2 mm2 3.6 MPa = 7.1 kN on two screws of 12.7 mm2 (M5 in its thread) and 420 MPa: 1.5",
       *shelled(head=closure("head", "25 mm", "12 mm", pins=2))),
    no("hot seat too weak", "limits.factor",
       "glue that has 2 % of its strength at 85 degC, on a bare plate of 3 mm: 3 mm aluminium takes "
       "7 kJ/(m2 K), a gas at 820 W/(m2 K) and 1700 K gives it over 100 K a second",
       *shelled(seat="""[closure.nozzle]
joint = "bonded"
material = "aluminium-6061-t6"
thickness = "3 mm"
gas_coefficient = "820 W/m2-K"
bond = "bench glue"
bond_length = "3 mm"
""", more="""[[material]]
name = "bench glue"
source = "twelve lap joints, pulled in warm water (invented)"
shear = "40 MPa"
strength_at = [["25 degC", 1], ["50 degC", 0.9], ["60 degC", 0.4], ["70 degC", 0.1], ["85 degC", 0.02]]
""")),
    unknown("head closure not described", "closure.head", "what nobody described, nobody has judged",
            *shelled(head="")),
    unknown("nozzle seat not described", "closure.nozzle", "what nobody described, nobody has judged",
            *shelled(seat="")),
    unknown("nothing says that it holds", "casing.material", "neither ceiling nor material",
            ROOM, SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP),
    unknown("factor asked without a material", "casing.material", "a factor of what?",
            ROOM, SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP, CEILING + "factor = 2\n"),
    unknown("gas temperature not known", "heat.gas_temperature",
            "an own propellant of known c* and no flame temperature: how hot the parts get is open",
            *shelled(fuel=own(LAW, flame=False)), judged=False),
    unknown("hot pipe of which only the cold strength is known", "material.strength_at",
            "a tube of 1 mm takes 2.4 kJ/(m2 K); 1700 K at 1500 W/(m2 K) heats it by hundreds of K",
            '[casing]\nbore = "50 mm"\nwall = "1 mm"\ngrain_room = "300 mm"\nfit = "3.7 mm"\n'
            'material = "scrap tube"\n', SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP, FACTOR, HEAD,
            SEAT, '[heat]\ngas_coefficient = "1500 W/m2-K"\n', metal("900 MPa", "")),
    unknown("as strong as its load, and no more", "limits.factor",
            "a tube and closures at 1.02 times their load, whose strength strays by 8 to 15 %: nearly half of "
            "such motors fail", *shelled(SCRAP, limits="[limits]\nfactor = 1\n", more=metal("45 MPa"))),
    unknown("confidence asked of a pipe without a ceiling", "limits.pressure",
            "which part of all motors keeps under what?", *shelled(limits="[limits]\nconfidence = 0.95\n")),
)

PROPELLANT = (
    unknown("law thirty per cent past its range", "propellant.law", "measured to 2.8 MPa, used at 3.7",
            ROOM, own(LAW + 'from = "0.5 MPa"\nto = "2.8 MPa"\n'), CALM_DAY, nozzle("14 mm"), segments(), SHOP,
            CEILING),
    unknown("exponent near one", "limits.confidence", "1.01^(1 / 0.05) = 1.22: 1 % of area, 22 % of pressure",
            ROOM, own('rate = "6 mm/s"\nat = "2 MPa"\nn = 0.95\n'), CALM_DAY, nozzle("3.26 mm"),
            segments(1, "60 mm", "0", 'inhibited = ["outer", "head"]'), CEILING),
    unknown("hot day, sensitivity not known", "propellant.temperature_sensitivity",
            "at the 0.1 to 0.9 %/K of the textbooks, 25 K are 2 to 25 % of rate",
            ROOM, own(LAW, ""), '[day]\ntemperature = "45 degC"\n', nozzle("14 mm"), segments(), SHOP, CEILING),
    unknown("cold day, sensitivity not known", "propellant.temperature_sensitivity",
            "35 K below the law's temperature; it may not even stay lit",
            ROOM, own(LAW, ""), '[day]\ntemperature = "-15 degC"\n', nozzle("14 mm"), segments(), SHOP,
            CEILING),
    unknown("a third of the density", "propellant.density_ratio", "70 % of voids burn inside",
            ROOM, SUCROSE + "density_ratio = 0.3\n", CALM_DAY, nozzle("14 mm"), segments(), SHOP, CEILING),
    unknown("law that jumps just above the peak", "propellant.law",
            "3.7 MPa, and from 4 MPa on the rate doubles: 5 % more rate, one standard deviation, and the pressure "
            "goes on to (2.02)^1.47 times as much, 10 MPa, over the ceiling of 6",
            ROOM, own(LAW + 'to = "4 MPa"\n\n[[propellant.law]]\n'
                      'rate = "26 mm/s"\nat = "4 MPa"\nn = 0.319\nfrom = "4 MPa"\n'),
            CALM_DAY, nozzle("14 mm"), segments(), SHOP, '[limits]\npressure = "6 MPa"\n'),
    no("too many motors over the ceiling", "limits.confidence",
       "sigma of ln P is (5 %, 1 %, 2 % and the throat) / (1 - 0.319), about 8 %: a ceiling one sigma above "
       "3.68 MPa is passed by 16 %, and 5 % may", ROOM, SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP,
       '[limits]\npressure = "3.97 MPa"\nconfidence = 0.95\n'),
    no("over the ceiling", "limits.pressure", "3.68 MPa, and 3 are allowed",
       ROOM, SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP, '[limits]\npressure = "3 MPa"\n'),
    no("over the ceiling with the flow along the port alone", "limits.pressure",
       "2.435 MPa steadily; Mach 0.65 at the last port's end: the head end has p (1 + gamma M^2) "
       "there, 2.85 MPa (Shapiro)", ROOM, SUCROSE, CALM_DAY, nozzle("18.65 mm"),
       segments(7, "40 mm", '"20 mm"'), SHOP, '[limits]\npressure = "2.6 MPa"\n'),
    no("igniter over the ceiling", "limits.pressure", "12 MPa at once, and 8 are allowed",
       *open_ports(), '[firing]\nigniter_pressure = "12 MPa"\n'),
    no("slag raises the pressure over the ceiling", "limits.pressure",
       "the throat loses 3 mm of 14 in a second: (14/11)^(2 x 1.47) = 2 times the pressure",
       ROOM, SUCROSE, CALM_DAY, nozzle("14 mm", 'throat_growth = "-3 mm/s"'), segments(), SHOP,
       '[limits]\npressure = "4 MPa"\n'),
    no("throat that does not choke", "limits.pressure_floor",
       "an end of 1684 mm2 over 78.5 mm2: 0.16 MPa, and the throat chokes from 1.73 x 0.101 MPa on",
       ROOM, SUCROSE, CALM_DAY, nozzle("10 mm"), segments(1, "60 mm", "0", 'inhibited = ["outer", "head"]'),
       CEILING),
    no("pressure under the job's floor", "limits.pressure_floor", "3.4 MPa, and 5 are asked",
       ROOM, SUCROSE, CALM_DAY, nozzle("14 mm"), segments(), SHOP, CEILING + 'pressure_floor = "5 MPa"\n'),
)

FLIGHT = (
    no("broken bound of the wish", "wish.total_impulse", "0.7 kg of propellant are near 900 N s",
       *shelled(), '[wish]\ntotal_impulse = "9000 N s"\n'),
    no("too heavy to lift", "airframe.mass", "700 N under 300 kg", *shelled(), airframe("300 kg")),
    no("stays on its rail", "airframe.mass",
       "some 650 N for 1.3 s under 45 kg: 4 m/s2 over the weight, 7 m, and the rail has 30",
       *shelled(), airframe("45 kg", "30 m")),
    unknown("slow off its rail, nothing asked", "wish.rail_speed",
            "650 N under 15 kg over 1 m: 8 m/s; common practice asks for 15", *shelled(),
            airframe("15 kg", "1 m")),
    unknown("slow off its rail, only a greatest speed asked", "wish.rail_speed",
            "as above: that it is at most 100 m/s says nothing of how slow it may be", *shelled(),
            airframe("15 kg", "1 m"), '[wish]\nrail_speed = { at_most = "100 m/s" }\n'),
    no("slow off its rail, more asked", "wish.rail_speed", "8 m/s, and 15 are asked", *shelled(),
       airframe("15 kg", "1 m"), '[wish]\nrail_speed = "15 m/s"\n'),
    unknown("rail speed asked without an airframe", "airframe", "the speed of what?", pipe(), SUCROSE, CALM_DAY,
            nozzle("14 mm"), segments(), FACTOR, HEAD, SEAT,
            '[wish]\nrail_speed = "15 m/s"\n'),
)

FINE = (
    yes("a described tube, well within", "25 over 14 mm, 3.7 MPa; the tube holds 31 by Lame", *shelled(),
        assumed=("heat.gas_coefficient", "casing.tube_material")),
    yes("a typed ceiling", "3.7 of 8 MPa; that it holds 8 is the builder's word", *open_ports(),
        assumed=("casing.material",)),
    yes("an end burner", "an end of 1684 mm2 over 12.6 mm2: 2.4 of 8 MPa", ROOM, SUCROSE, CALM_DAY,
        nozzle("4 mm"), segments(1, "60 mm", "0", 'inhibited = ["outer", "head"]'), SHOP, CEILING),
    yes("a cross with room", "two slots 30 by 12 mm: 514 mm2 over 133", ROOM, SUCROSE, CALM_DAY, nozzle("13 mm"),
        segments(2, "90 mm", '{ shape = "cross", length = "30 mm", width = "12 mm" }'), SHOP, CEILING,
        planes=False),
    yes("a narrow port whose erosion is known", "(24/20)^2 = 1.44 with constants; the ceiling is far",
        ROOM, SUCROSE + EROSION, CALM_DAY, nozzle("20 mm"), segments(core='"24 mm"'), SHOP, CEILING),
    yes("a rocket that flies", "650 N under 4 kg over 2 m: 24 m/s", *shelled(), airframe("4 kg", "2 m"),
        '[wish]\nrail_speed = "15 m/s"\n'),
    yes("near its ceiling, as drawn", "3.68 of 3.8 MPa: some 35 % of motors would pass it", ROOM, SUCROSE,
        CALM_DAY, nozzle("14 mm"), segments(), SHOP, '[limits]\npressure = "3.8 MPa"\n',
        assumed=("limits.confidence",)),
    yes("ends that touch, and no room to spare", "tolerances make it 3 mm too long; nothing keeps the ends apart",
        ROOM.replace("300 mm", "241 mm"), SUCROSE, nozzle("14 mm").replace("efficiency = 0.85\n", ""),
        segments(), '[shop]\nlength_tolerance = "1 mm"\n', CEILING,
        assumed=("shop.length_tolerance", "shop.spacer", "nozzle.efficiency", "casing.material")),
)

REFUSED = (
    refused("a factor under one", "a part at a tenth of its strength keeps no factor",
            *shelled(limits="[limits]\nfactor = 0.1\n")),
    refused("a material of 900 000 psi", "6.2 GPa; the strongest steels have about 2.4",
            *shelled(SCRAP, more=metal("900000 psi"))),
    refused("a pipe's length without its material", "a key that would be skipped in silence",
            ROOM + 'length = "400 mm"\n', SUCROSE, nozzle("14 mm"), segments(), SHOP, CEILING),
    refused("heat without a material", "a table that would be skipped in silence",
            *open_ports(), '[heat]\ngas_coefficient = "600 W/m2-K"\n'),
    refused("slag that closes the throat", "14 mm at 20 mm/s are closed in 0.7 s, within the burn",
            ROOM, SUCROSE, CALM_DAY, nozzle("14 mm", 'throat_growth = "-20 mm/s"'), segments(), SHOP, CEILING),
)

MOTORS = PORTS + STRENGTH + PROPELLANT + FLIGHT + FINE


def check_figures():
    """The numbers in the reasons above."""
    mm, mpa = 1e-3, 1e6
    assert abs(parts.peak(3, 80 * mm, 25 * mm, 14 * mm) / mpa - 3.68) < 0.01
    assert abs(parts.peak(7, 40 * mm, 20 * mm, 18.65 * mm) / mpa - 2.435) < 0.001
    last = parts.mach((20 / 18.65)**2)
    end = 2.435 / (1 + 0.0665 * last**2)**(1.133 / 0.133)
    assert abs(last - 0.65) < 0.1 and end * (1 + 1.133 * last**2) > 2.6
    assert abs(parts.mach((25 / 20)**2) - 0.42) < 0.005
    assert abs(parts.hoop(12) - 1.54) < 0.01 and abs(parts.hoop(40) - 5.14) < 0.01
    assert abs(2 * (18 * 4 + math.pi * 4) - 16 - 153) < 1
    flux = parts.steady(parts.kn(3, 80 * mm, 20 * mm, 13 * mm)) / 919 / (20 / 13)**2
    assert flux > 1406.14, flux
    assert parts.steady(1684 / 78.5) < 1.73 * 0.101325 * mpa
    assert len({motor.name for motor in MOTORS}) == len(MOTORS) >= 30
