"""Norway, Regulations concerning the performance of work, section 20-1 (arbeidstilsynet.no) [published].

Above 150 N the tool must be supported against the body, above 250 N mechanical control is required.
"""

from sightwash.basis.sources import source
from sightwash.science import impact


def test_limits_of_recoil():
    assert impact.SUPPORT_FORCE.value == 150.0
    assert impact.MECHANICAL_FORCE.value == 250.0
    assert source(impact.SUPPORT_FORCE.source).where == "section 20-1"
