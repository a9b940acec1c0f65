// How many wider values a limit has, and which.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <algorithm>
#include <cfenv>
#include <cstddef>
#include <cstdint>
#include <variant>
#include <vector>

#include <tranche/loin/models/prism_loin.hpp>
#include <tranche/optimise/explain/detail/wider_values.hpp>
#include <tranche/optimise/explain/request_limit.hpp>
#include <tranche/units/literals.hpp>

namespace request_limit_test {

using namespace tranche;
using namespace tranche_test;
using namespace tranche::literals;

TEST_CASE("a limit that is so many steps from as wide as can be has so many wider values") {
    const profile meat = tabulate(prism_loin{.length = 60_mm, .face = {.width = 16_cm, .depth = 7_cm}}, 5_mm);
    const limit_steps steps{.thickness = 5_mm, .portion = 10_g, .share = 0.25};
    for (const std::int64_t n : {0, 1, 2, 7}) {
        const length off = static_cast<double>(n) * 5_mm;
        CAPTURE(n);
        cutting_request request{
            .cuts = {{.name = "steak", .thickness = {20_mm, 60_mm - off}}}, .rules = {.facing = off}, .demands = {}};
        request.cuts[0].gluteus_medius = {0.0, 1.0 - 0.25 * static_cast<double>(std::min<std::int64_t>(n, 4))};
        using kind = request_limit::kind;
        const detail::wider_values facing(meat, request, {kind::facing, 0}, steps);
        const detail::wider_values thick(meat, request, {kind::thickness_max, 0}, steps);
        const detail::wider_values share(meat, request, {kind::gluteus_medius_towards_sirloin, 0}, steps);
        CHECK(facing.count() == n);
        CHECK(thick.count() == n);
        CHECK(share.count() == std::min<std::int64_t>(n, 4));
        if (n == 0) continue;
        CHECK(std::get<length>(facing[0]) / millimetre == Approx(static_cast<double>(n - 1) * 5.0).margin(1e-9));
        CHECK(std::get<length>(facing[n - 1]) == 0_mm);
        CHECK(std::get<length>(thick[n - 1]) / millimetre == Approx(60.0));
        CHECK(std::get<fraction>(share[share.count() - 1]) == Approx(1.0));
    }
}

TEST_CASE("a limit without end has a number of wider values, and an absurd one none that overflows") {
    const profile meat = tabulate(prism_loin{.length = 60_mm, .face = {.width = 16_cm, .depth = 7_cm}}, 5_mm);
    using kind = request_limit::kind;
    cutting_request request{
        .cuts = {{.name = "steak", .thickness = {20_mm, 1e300 * 1_mm}, .portion = {1e250 * 1_g, 1e300 * 1_g}}},
        .demands = {}};
    CHECK(detail::wider_values(meat, request, {kind::thickness_max, 0}, {}).count() == 0); // wider than the loin
    CHECK(detail::wider_values(meat, request, {kind::portion_max, 0}, {}).count() == 0);
    const detail::wider_values lighter(meat, request, {kind::portion_min, 0}, {});
    CHECK(lighter.count() > 1'000'000);
    CHECK(lighter.one_step());
    request.cuts[0].thickness = {20_mm, unlimited<length>()};
    CHECK(detail::wider_values(meat, request, {kind::thickness_max, 0}, {}).count() == 0);
}

TEST_CASE("a limit that is not asked for is as wide as can be, and nothing is divided by it") {
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}}, 5_mm);
    cutting_request request{.cuts = {{.name = "steak", .thickness = {25_mm, 38_mm}}}};
    using kind = request_limit::kind;
    const auto look = [&](kind what, bool open) {
        std::feclearexcept(FE_ALL_EXCEPT);
        const detail::wider_values values(meat, request, {what, 0}, {});
        CHECK_FALSE(std::fetestexcept(FE_DIVBYZERO | FE_INVALID));
        CHECK((values.count() > 0) == open);
        CHECK(values.one_step().has_value() == open);
    };
    for (const kind what : {kind::thickness_step, kind::one_thickness, kind::order, kind::pieces}) look(what, false);
    request.cuts[0].thickness_step = 5_mm;
    request.cuts[0].one_thickness = true;
    for (const kind what : {kind::thickness_step, kind::one_thickness}) look(what, true);
}

TEST_CASE("a tail limit that tapers is moved by its longer end and the other end moves along") {
    using kind = request_limit::kind;
    using way = detail::wider_values<>::way;
    const profile meat =
        tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm, .tail = 40_mm}}, 5_mm);
    cutting_request request{.cuts = {{.name = "steak", .thickness = 25_mm, .trim = {.tail = {30_mm, 20_mm}}}}};
    const request_limit limit{kind::tail_left, 0};
    CHECK(value_of(request, limit) == limit_value{30_mm});
    const auto tail = [&](length to) { return moved(request, limit, to).cuts[0].trim.tail; };
    CHECK(tail(35_mm) == tail_limit{35_mm, 25_mm});
    CHECK(tail(5_mm) == tail_limit{5_mm, 0_mm}); // nothing below zero
    CHECK(detail::name_in(request, limit) == "tail left at the longer end");

    // In steps of 5 mm: 35 to 50 mm, as 50 mm at one end leave all of 40 mm at the other; and 25 mm to none.
    const limit_steps steps{.thickness = 5_mm};
    const detail::wider_values more(meat, request, limit, steps, way::more_left);
    const detail::wider_values less(meat, request, limit, steps, way::less_left);
    REQUIRE(more.count() == 4);
    CHECK(more[3] == limit_value{detail::snapped(50_mm)});
    REQUIRE(less.count() == 6);
    CHECK(less[5] == limit_value{0_mm});

    request.cuts[0].trim.tail = {20_mm, 30_mm}; // the other way round
    CHECK(value_of(request, limit) == limit_value{30_mm});
    CHECK(tail(35_mm) == tail_limit{25_mm, 35_mm});
    request.cuts[0].trim.tail = 30_mm;
    CHECK(tail(35_mm) == tail_limit{35_mm});
    CHECK(detail::name_in(request, limit) == "tail left");
    request.cuts[0].trim.tail = {};
    CHECK(value_of(request, limit) == limit_value{unlimited<length>()});
    CHECK(tail(35_mm) == tail_limit{35_mm});
}

TEST_CASE("values of a limit lie on whole steps whatever unit it was written in") {
    using kind = request_limit::kind;
    const profile meat = tabulate(prism_loin{.length = 30_cm, .face = {.width = 20_cm, .depth = 7_cm}}, 5_mm);
    const auto first = [&](length thinnest) {
        const cutting_request request{.cuts = {{.name = "steak", .thickness = {thinnest, 60_mm}}}};
        const detail::wider_values values(meat, request, {kind::thickness_min, 0}, {.thickness = 0.1_mm});
        return std::get<length>(values[0]);
    };
    for (int tenths = 100; tenths < 500; ++tenths) {
        const length expected = detail::snapped((tenths - 1) / 10.0 * millimetre);
        CHECK(first(tenths / 10.0 * millimetre) == expected);
        CHECK(first(tenths / 100.0 * centimetre) == expected);
        CHECK(first(tenths / 254.0 * inch) == expected);
    }
}

} // namespace request_limit_test
