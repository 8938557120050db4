"""Do services lie together in one compartment that must be apart?

Three tests, each on what lies in the same compartment:

1. Extra-low voltage and data (band I) and low voltage (band II) don't share a compartment unless every cable is insulated for the highest
   voltage present. So each cable's rated voltage is an input; where it decides and isn't given, the answer is unknown.
2. Fire alarm cables lie on their own.
3. Cables of emergency lighting from a central battery lie on their own. Self-contained luminaires are fed by ordinary circuits.

    band I    data, elv; fire-alarm and control at up to 50 V
    band II   power, emergency lighting; fire-alarm and control above 50 V

On a tray or ladder cables can be apart without a divider. How far apart they will be laid isn't known, so there the answer is unknown.
A service or a voltage that isn't given makes the answer unknown wherever it decides.

Clause: BS 7671 528.1 (bands), 560.7 with BS 5839-1 clause 26 (fire alarm), 560.7 with BS 5266-1 (escape lighting).

Worked example. A wall trunking of one compartment with socket circuits at 230 V in cables for 750 V, and data cables rated 125 V: 230 V is
present and the data cables aren't insulated for it: fail. Control at 24 V in single-core cables for 750 V beside the same circuits: pass.

Not asked here: distances between carriers (segregation.spacing), separation at tees and crosses (segregation.fitting), fire-resisting or
screened cable used in place of separation.
"""

from checker.model import LoadedCompartment
from checker.rule import Verdict, rule
from rules.segregation.together import SegregationLimits, together


@rule(id="segregation.compartment", title="Services that must be apart in a compartment")
def compartment(subject: LoadedCompartment, limits: SegregationLimits) -> Verdict:
    """The worst answer of the three tests."""
    return together(subject.cables, {subject.carrier.kind}, limits)
