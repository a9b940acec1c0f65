// That bad specs and rules are refused by name, field and limit, and that published tolerances make good ones.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <array>
#include <string>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/verify.hpp>

#include "loin/samples.hpp"

namespace cut_spec_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

cut_spec strip_steak() { return {.name = "strip steak", .thickness = {0.9_in, 1.3_in}, .portion = {11_oz, 13_oz}}; }

template <class Change>
std::string refusal(Change change) {
    cut_spec spec = strip_steak();
    change(spec);
    return message_of([&] { validate(spec); });
}

const length nan_length = length::from_value(not_a_number);
const mass nan_mass = mass::from_value(not_a_number);

} // namespace

TEST_CASE("a spec with a name and a thickness is a spec") {
    CHECK(refusal([](cut_spec&) {}) == "accepted");
    CHECK(message_of([] { validate(cut_spec{.name = "steak", .thickness = 1_in}); }) == "accepted");
    CHECK(message_of([] {
              validate(cut_spec{.name = "steak", .thickness = {1_in, unlimited<length>()}});
          }) == "accepted");
    CHECK(refusal([](cut_spec& s) { s.pieces = 100; }) == "accepted");
}

TEST_CASE("a bad spec is refused by its name and field") {
    CHECK(refusal([](cut_spec& s) { s.name.clear(); }) == "name: got \"\", expected a name for the cut");
    CHECK(refusal([](cut_spec& s) { s.thickness = {}; }) ==
          "strip steak: thickness.min: got 0 mm, expected a finite value above zero");
    CHECK(refusal([](cut_spec& s) {
              s.thickness = {30_mm, 20_mm};
          }) == "strip steak: thickness.max: got 20 mm, expected at least the min, 30 mm");
    CHECK(refusal([](cut_spec& s) {
              s.thickness = {-30_mm, 20_mm};
          }) == "strip steak: thickness.min: got -30 mm, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) {
              s.thickness = {nan_length, 20_mm};
          }) == "strip steak: thickness.min: got nan mm, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) {
              s.thickness = {20_mm, nan_length};
          }) == "strip steak: thickness.max: got nan mm, expected at least the min, 20 mm");
    CHECK(refusal([](cut_spec& s) { s.thickness = unlimited<length>(); }) ==
          "strip steak: thickness.min: got inf mm, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) {
              s.portion = {350_g, 300_g};
          }) == "strip steak: portion.max: got 300 g, expected at least the min, 350 g");
    CHECK(refusal([](cut_spec& s) {
              s.portion = {-1_g, 300_g};
          }) == "strip steak: portion.min: got -1 g, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) {
              s.portion = {nan_mass, 300_g};
          }) == "strip steak: portion.min: got nan g, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) {
              s.portion = {1_g, nan_mass};
          }) == "strip steak: portion.max: got nan g, expected at least the min, 1 g");
    CHECK(refusal([](cut_spec& s) { s.portion = 0_g; }) == "strip steak: portion.max: got 0 g, expected above zero");
    CHECK(refusal([](cut_spec& s) { s.pieces = 0; }) == "strip steak: pieces: got 0, expected 1 to 100");
    CHECK(refusal([](cut_spec& s) { s.pieces = -2; }) == "strip steak: pieces: got -2, expected 1 to 100");
    CHECK(refusal([](cut_spec& s) { s.pieces = 101; }) == "strip steak: pieces: got 101, expected 1 to 100");
    CHECK(refusal([](cut_spec& s) { s.trim.fat_cover = -1_mm; }) ==
          "strip steak: trim.fat_cover: got -1 mm, expected zero or more");
    CHECK(refusal([](cut_spec& s) { s.trim.tail = nan_length; }) ==
          "strip steak: trim.tail: got nan mm, expected zero or more");
    CHECK(refusal([](cut_spec& s) { s.gluteus_medius.towards_rib = 1.5; }) ==
          "strip steak: gluteus_medius.towards_rib: got 1.5, expected a share, 0 to 1");
    CHECK(refusal([](cut_spec& s) { s.gluteus_medius.towards_sirloin = not_a_number; }) ==
          "strip steak: gluteus_medius.towards_sirloin: got nan, expected a share, 0 to 1");
    CHECK(refusal([](cut_spec& s) { s.kerf = -1_mm; }) ==
          "strip steak: kerf: got -1 mm, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) { s.kerf = length::from_value(infinite); }) ==
          "strip steak: kerf: got inf mm, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) { s.kerf = nan_length; }) ==
          "strip steak: kerf: got nan mm, expected a finite value, zero or more");
}

TEST_CASE("a list of specs has at least one, each with a name of its own") {
    const auto refusal_of = [](const std::vector<cut_spec>& specs) { return message_of([&] { validate(specs); }); };
    cut_spec fillet = strip_steak();
    fillet.name = "fillet";
    CHECK(refusal_of({strip_steak(), fillet}) == "accepted");
    CHECK(refusal_of({}) == "specs: got none, expected at least one cut");
    CHECK(refusal_of({strip_steak(), fillet, strip_steak()}) ==
          "name: got \"strip steak\" twice, expected a name of its own for each cut");
    fillet.pieces = 0;
    CHECK(refusal_of({strip_steak(), fillet}) == "fillet: pieces: got 0, expected 1 to 100");
}

TEST_CASE("bad rules are refused by their field") {
    const auto refusal_of = [](auto change) {
        cutting_rules rules;
        change(rules);
        return message_of([&] { validate(rules, 420_mm); });
    };
    CHECK(refusal_of([](cutting_rules&) {}) == "accepted");
    CHECK(refusal_of([](cutting_rules& r) { r.facing = 419_mm; }) == "accepted");
    CHECK(refusal_of([](cutting_rules& r) { r.facing = 420_mm; }) ==
          "facing: got 420 mm, expected less than the loin's length, 420 mm");
    CHECK(refusal_of([](cutting_rules& r) { r.facing = -1_mm; }) ==
          "facing: got -1 mm, expected a finite value, zero or more");
    CHECK(refusal_of([](cutting_rules& r) { r.facing = nan_length; }) ==
          "facing: got nan mm, expected a finite value, zero or more");
    CHECK(refusal_of([](cutting_rules& r) { r.loose.clear(); }) ==
          "loose: got none, expected at least one way to use loose meat");
    CHECK(refusal_of([](cutting_rules& r) { r.loose.push_back({.trim = {.tail = -1_mm}}); }) ==
          "loose[1].trim.tail: got -1 mm, expected zero or more");
    CHECK(refusal_of([](cutting_rules& r) { r.loose[0].least_thickness = -1_mm; }) ==
          "loose[0].least_thickness: got -1 mm, expected a finite value, zero or more");
    CHECK(refusal_of([](cutting_rules& r) { r.loose[0].least_thickness = nan_length; }) ==
          "loose[0].least_thickness: got nan mm, expected a finite value, zero or more");
}

TEST_CASE("the rules for the second muscle say what they mean") {
    CHECK(on_one_face == gluteus_medius_rule{0.0, 1.0});
    CHECK(no_gluteus_medius == gluteus_medius_rule{0.0, 0.0});
    CHECK(any_gluteus_medius == gluteus_medius_rule{1.0, 1.0});
    CHECK(gluteus_medius_up_to(0.2) == gluteus_medius_rule{0.2, 0.2});
    CHECK(strip_steak().gluteus_medius == on_one_face); // the centre cut is the default
}

namespace {

/// Portion tolerances of the USDA AMS Institutional Meat Purchase Specifications, Fresh Beef, Series 100 (effective November
/// 2014), section 3.5.1 (quoted; a recollection disagrees on the upper bands, so they are an input here as for any caller).
mass weight_tolerance(mass target) {
    if (target < 6_oz) return 0.25_oz;
    if (target <= 12_oz) return 0.5_oz;
    if (target <= 24_oz) return 0.75_oz;
    return 1_oz;
}
length thickness_tolerance(length target) { return target <= 1_in ? 3.0 / 16.0 * inch : 0.25_in; }

/// One slab of a loin that is just that slab: so thick, and so heavy.
struct one_slab {
    length thickness;
    mass weight;

    [[nodiscard]] length extent() const { return thickness; }
    [[nodiscard]] face face_at(length) const {
        face f;
        f.areas[tissue::eye] = weight / thickness / densities_at_4_celsius()[tissue::eye];
        return f;
    }
};

bool within_tolerance(length thickness, mass weight, length target_thickness, mass target_weight) {
    const length t = thickness_tolerance(target_thickness);
    const mass w = weight_tolerance(target_weight);
    const std::vector<cut_spec> specs{{.name = "steak",
                                       .thickness = {target_thickness - t, target_thickness + t},
                                       .portion = {target_weight - w, target_weight + w}}};
    validate(specs);
    const profile meat = tabulate(one_slab{thickness, weight}, 0.5_mm);
    const cutting_plan cut = lay_out(meat, specs, {}, {{0, meat.cells(), slab_kind::portions, 0}});
    return verify(cut, meat, specs, {}).empty();
}

} // namespace

TEST_CASE("published portion tolerances are limits of a spec") {
    for (const mass& target : {5.9_oz, 6_oz, 8_oz, 12_oz, 12.5_oz, 24_oz, 25_oz}) {
        const mass w = weight_tolerance(target);
        CAPTURE(target / 1_oz);
        CHECK(within_tolerance(1_in, target, 1_in, target));
        // A thousandth of the tolerance either side of either limit.
        CHECK(within_tolerance(1_in, target + 0.999 * w, 1_in, target));
        CHECK(within_tolerance(1_in, target - 0.999 * w, 1_in, target));
        CHECK_FALSE(within_tolerance(1_in, target + 1.001 * w, 1_in, target));
        CHECK_FALSE(within_tolerance(1_in, target - 1.001 * w, 1_in, target));
    }
    for (const length& target : {0.75_in, 1_in, 1.25_in, 2_in}) {
        const length t = thickness_tolerance(target);
        CAPTURE(target / 1_in);
        CHECK(within_tolerance(target + 0.999 * t, 12_oz, target, 12_oz));
        CHECK(within_tolerance(target - 0.999 * t, 12_oz, target, 12_oz));
        CHECK_FALSE(within_tolerance(target + 1.001 * t, 12_oz, target, 12_oz));
        CHECK_FALSE(within_tolerance(target - 1.001 * t, 12_oz, target, 12_oz));
    }
}

TEST_CASE("published portion tolerances change at the published weights and thicknesses") {
    // The bands of the same section: under 6 oz, 6 to 12, over 12 to 24, over 24 oz, and to 1.0 in and over.
    CHECK_FALSE(within_tolerance(1_in, 5.9_oz + 0.3_oz, 1_in, 5.9_oz));
    CHECK(within_tolerance(1_in, 6_oz + 0.45_oz, 1_in, 6_oz));
    CHECK_FALSE(within_tolerance(1_in, 12_oz + 0.7_oz, 1_in, 12_oz));
    CHECK(within_tolerance(1_in, 12.1_oz + 0.7_oz, 1_in, 12.1_oz));
    CHECK_FALSE(within_tolerance(1_in, 24_oz + 0.9_oz, 1_in, 24_oz));
    CHECK(within_tolerance(1_in, 24.1_oz + 0.9_oz, 1_in, 24.1_oz));
    CHECK_FALSE(within_tolerance(1.24_in, 12_oz, 1_in, 12_oz));
    CHECK(within_tolerance(1.25_in, 12_oz, 1.01_in, 12_oz));
}

TEST_CASE("a zone, a notch, a remnant or an order that makes no sense is refused") {
    CHECK(refusal([](cut_spec& s) { s.zone = {20_cm, 30_cm}; }) == "accepted");
    CHECK(refusal([](cut_spec& s) {
              s.zone = {30_cm, 20_cm};
          }) == "strip steak: zone.max: got 200 mm, expected at least the min, 300 mm");
    CHECK(refusal([](cut_spec& s) { s.zone.min = nan_length; }) ==
          "strip steak: zone.min: got nan mm, expected a finite value, zero or more");
    CHECK(refusal([](cut_spec& s) { s.thickness_step = -1_mm; }) ==
          "strip steak: thickness_step: got -1 mm, expected a finite value, zero or more");
    CHECK(message_of([] { validate(cutting_rules{.remnant = {.thickness = -1_mm}}, 40_cm); }) ==
          "remnant.thickness: got -1 mm, expected a finite value, zero or more");
    CHECK(message_of([] { validate(cutting_rules{.remnant = {.weight = nan_mass}}, 40_cm); }) ==
          "remnant.weight: got nan g, expected a finite value, zero or more");

    const std::vector<cut_spec> specs{
        {.name = "a", .thickness = 1_cm}, {.name = "b", .thickness = 1_cm}, {.name = "c", .thickness = 1_cm}};
    const auto order = [&](const std::vector<cut_order>& o) { return message_of([&] { validate(o, specs); }); };
    CHECK(order({{"a", "b"}, {"b", "c"}, {"a", "c"}}) == "accepted");
    CHECK(order({{"a", "d"}}) == "order: got \"d\", expected the name of a spec");
    CHECK(order({{"a", "b"}, {"b", "c"}, {"c", "a"}}) ==
          "order: got a before itself, expected an order without a circle");
    CHECK(order({{"b", "b"}}) == "order: got b before itself, expected an order without a circle");
}

} // namespace cut_spec_test
