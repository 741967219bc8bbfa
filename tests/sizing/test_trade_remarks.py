"""What the trade says beside a number: each caution stands with its check."""

from dataclasses import replace

from tests.plumbing.heron import heron
from tests.sizing.test_checks import checked, typed, untyped
from webapp.build.data_sheet import Wire
from webapp.sizing.boiling import OLD_CORE
from webapp.sizing.charge_heat import COOLANT_HOSE, HOT_COUPLERS, HotPart, charge_hose
from webapp.sizing.coolant_heat import NEVER_SHUT
from webapp.sizing.exhaust import KEEP_AWAY
from webapp.sizing.expansion import HIGHEST
from webapp.sizing.fuse import FUSED_AT_BATTERY, OWN_LINE, SLOW
from webapp.sizing.growth import LEG
from webapp.sizing.mixture import LABEL
from webapp.sizing.voltage_drop import EARTH_PATH


def test_plastic_tanks_are_asked_for_and_metal_ones_are_not() -> None:
    asked = checked(untyped(heron(), "cooler_tanks", "cooler_tank_c"))
    assert asked["cooler_heat", "intercooler"].words == (
        "not checked: the charge cooler's tanks and the rating of the charge cooler's tanks are"
        " missing"
    )
    plastic = checked(typed(heron(), cooler_tanks="plastic"))["cooler_heat", "intercooler"]
    assert plastic.words == "not checked: the rating of the charge cooler's tanks is missing"
    rated = typed(heron(), cooler_tanks="plastic", cooler_tank_c=190)
    # 139 °C behind the compressor, 170 is ok
    assert checked(rated)["cooler_heat", "intercooler"].word == "ok"
    assert ("cooler_heat", "intercooler") not in checked(typed(heron(), cooler_tanks="metal"))


def test_a_hot_coupler_that_is_not_lined_is_told_so() -> None:
    for material, remark in (("coolant", COOLANT_HOSE), ("silicone", HOT_COUPLERS)):
        answer = charge_hose("hot1", HotPart(charge_c=100, rated_c=180, material=material), "x")
        assert answer.remarks == (remark,)
    lined = HotPart(charge_c=100, rated_c=180, material="silicone lined")
    assert charge_hose("hot1", lined, "x").remarks == ()


def test_remarks_stand_with_their_checks() -> None:
    found = checked(typed(heron(), weakest_coolant_bar=1.1))
    for (check, at), remark in {
        ("radiator", "rad"): NEVER_SHUT,
        ("expansion", "coolant"): HIGHEST,
        ("mixture", "coolant"): LABEL,
        ("cap", "coolant"): OLD_CORE,
        ("exhaust_loss", "exhaust"): KEEP_AWAY,
        ("growth", "exhaust"): LEG,
        ("voltage_drop", "starter"): EARTH_PATH,
        ("fuse", "fan"): OWN_LINE,
    }.items():
        assert remark in found[check, at].remarks, check
    assert SLOW in found["fuse", "fan"].remarks


def test_an_alternator_s_cable_is_fused_at_the_battery_s_end() -> None:
    wire = Wire(
        key="alt", name="Alternator to battery", current_a=90, area_mm2=25, out_and_back_m=3,
        fuse_a=125, carries_a=150,
    )  # fmt: skip
    sheet = replace(heron().data_sheet, wires=(wire,))
    answer = checked(replace(heron(), data_sheet=sheet))["fuse", "alt"]
    assert answer.word == "ok"  # 90 / 0.8 = 112.5
    assert FUSED_AT_BATTERY in answer.remarks
