// The picture of what a cut costs read back: areas and bars in their places, labels inside, numbers for who does not see it.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/optimise/plans/plans.hpp>
#include <tranche/report/pictures/regret_picture.hpp>
#include <tranche/units/literals.hpp>

#include <cmath>
#include <cstddef>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "optimise/three_cuts.hpp"
#include "report/xml.hpp"
#include "support/catch.hpp"

namespace regret_picture_test {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

struct drawn {
    profile meat = measured_strip(1_mm);
    cutting_request request{three_cuts(), {.kept_whole = {{100_mm, 120_mm}}}};
    planned best;
    std::vector<cut_regret> regrets;
    drawn() {
        const auto both = lexicographic(best_by<portion_count_objective>(), best_by<portion_mass_objective>());
        best = plan(meat, request, both);
        regrets = cut_regrets(meat, request, both);
    }
};

/// The corners of a path of M and L.
std::vector<std::pair<double, double>> corners(const std::string& path) {
    std::vector<std::pair<double, double>> all;
    std::istringstream in(path);
    for (char c = 0; in >> c && c != 'Z';) {
        double x = 0.0, y = 0.0;
        in >> x >> y;
        all.emplace_back(x, y);
    }
    return all;
}

} // namespace

TEST_CASE("each place stands on the picture of regrets at its height, or in a bar") {
    const drawn d;
    const auto elements = parse_xml(cut_regrets_svg(d.regrets, d.best.plan, {"g", 1e6}, metric_kitchen));
    std::size_t counted = 0, more = 0, none = 0;
    double most = 0.0;
    for (const cut_regret& r : d.regrets) {
        const bool possible = std::isfinite(r.lost), earlier = possible && r.part == 0 && r.lost > 0.0;
        (possible ? earlier ? more : counted : none) += 1;
        if (possible && !earlier) most = std::max(most, r.lost / 1e6);
    }
    REQUIRE((counted > 50 && more > 0 && none == 19));
    // The height of 1 g by the two lowest marks of the axis.
    const auto ticks = of_kind(elements, "tick");
    REQUIRE(ticks.size() >= 2);
    const double zero = ticks[0].number("y"), one = (zero - ticks[1].number("y")) / std::stod(ticks[1].text);
    double highest = 0.0;
    std::size_t points = 0;
    for (const xml_element& area : of_kind(elements, "lost")) {
        const auto all = corners(area.attributes.at("d"));
        points += all.size() - 2;
        for (const auto& [x, y] : all) highest = std::max(highest, (all.front().second - y) / one);
    }
    CHECK(points == counted);
    CHECK_THAT(highest, WithinRel(most, 1e-3));
    // Bars: the stretch that is kept whole, half a step wider than its places.
    double width = 0.0;
    for (const xml_element& bar : of_kind(elements, "none"))
        if (bar.name == "rect") width += bar.number("width");
    CHECK_THAT(width, WithinRel(19.0 * (936.0 - 92.0) / 420.0, 0.01));
    CHECK_FALSE(of_kind(elements, "more").empty());
    std::size_t cuts = 0;
    for (const slab& s : d.best.plan.slabs) cuts += s.end() < d.meat.extent();
    CHECK(of_kind(elements, "cut").size() == cuts);
}

TEST_CASE("the picture of regrets tells its numbers, and its labels lie inside") {
    const drawn d;
    for (const kitchen_units& units : {us_kitchen, metric_kitchen}) {
        const std::string svg = cut_regrets_svg(d.regrets, d.best.plan, {"g", 1e6}, units);
        CHECK(fetched(svg).empty());
        CHECK(svg.find("nan") == std::string::npos);
        CHECK_THAT(svg, ContainsSubstring("is impossible at 19.") && ContainsSubstring(" g, at "));
        for (const xml_element& e : parse_xml(svg)) {
            if (e.name != "text") continue;
            const double wide = detail::ems_of(e.text) * e.number("font-size"), x = e.number("x");
            const std::string anchor = e.attributes.at("text-anchor");
            const double from = anchor == "end" ? x - wide : anchor == "middle" ? x - 0.5 * wide : x;
            CHECK(from >= 0.0);
            CHECK(from + wide <= 960.0);
        }
    }
}

TEST_CASE("regrets that are all nothing, or all impossible, have a picture of numbers; none at all have none") {
    const drawn d;
    const double infinite = std::numeric_limits<double>::infinity();
    for (const double lost : {0.0, 1e-9, 3e12, infinite}) {
        std::vector<cut_regret> alike = d.regrets;
        for (cut_regret& r : alike) r.lost = lost, r.part = 0;
        const std::string svg = cut_regrets_svg(alike, d.best.plan);
        CHECK(svg.find("nan") == std::string::npos);
        CHECK(svg.find("inf\"") == std::string::npos);
        CHECK(of_kind(parse_xml(svg), "tick").size() >= 2);
    }
    CHECK_THROWS_AS(cut_regrets_svg({}, d.best.plan), invalid_input);
    CHECK_THROWS_AS(cut_regrets_svg(d.regrets, d.best.plan, {"g", 0.0}), invalid_input);
}

} // namespace regret_picture_test
