// Whatever a loin was measured by, its table stretches: masses by their factors, layers by theirs, and nothing falls.
// SPDX-License-Identifier: BSL-1.0
#include "support/catch.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/varied_profiles.hpp>
#include <tranche/units/literals.hpp>

#include "loin/every_model.hpp"

namespace varied_profiles_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

TEST_CASE("loins of every model stretch by their factors") {
    for_each_model(models_as_they_are(), [](const std::string& name, const auto& loin) {
        CAPTURE(name);
        varied_profiles room(tabulate(loin, 5_mm));
        const profile& base = room.base();
        CHECK(room.vary({}) == base);
        for (const double longer : {0.83, 1.0, 1.07}) {
            const loin_factors by{.length = longer,
                                  .width = 1.1,
                                  .depth = 0.9,
                                  .fat_cover = 1.5,
                                  .tail = 0.8,
                                  .fill = 1.05,
                                  .gluteus_medius_onset = 1.04,
                                  .gluteus_medius_share = 0.9};
            const profile& varied = room.vary(by);
            CHECK(varied.step() == base.step());
            CHECK(varied.extent() / base.extent() == Approx(longer).epsilon(1e-6));
            const auto grows = [&](micrograms now, micrograms before, double factor) {
                CHECK(static_cast<double>(now.count) ==
                      Approx(factor * static_cast<double>(before.count)).epsilon(1e-6).margin(3.0));
            };
            const double flat = longer * 1.1;
            grows(varied.total(tissue::fat_cover), base.total(tissue::fat_cover), flat * 1.5 * 1.05);
            grows(varied.total(tissue::tail), base.total(tissue::tail), flat * 0.9 * 0.8);
            grows(varied.total(tissue::connective), base.total(tissue::connective), flat * 0.9 * 1.05);
            grows(varied.total(tissue::eye) + varied.total(tissue::gluteus_medius),
                  base.total(tissue::eye) + base.total(tissue::gluteus_medius), flat * 0.9 * 1.05);
            CHECK(std::abs(room.mass_of(by).value() * 1e9 - static_cast<double>(varied.total().count)) < 2'000.0);
            bool falls = false;
            for (std::size_t i = 1; i <= varied.cells(); ++i)
                for (const tissue t : all_tissues)
                    falls = falls || varied.cumulative(t)[i] < varied.cumulative(t)[i - 1];
            CHECK(!falls);
            for (std::size_t i = 0; i < varied.cells(); i += 7) {
                CHECK(varied.fat_cover(i).thickness >= length{});
                CHECK(varied.gluteus_medius_share(i) <= 1.0);
            }
            // What lies within as large a part of the cover is as large a part of it.
            const std::size_t middle = varied.cells() / 2, old = base.cells() / 2;
            const length cover = base.fat_cover(old).thickness;
            if (cover > length{} && longer == 1.0)
                CHECK(varied.fat_cover_within(middle, 0.75 * cover) ==
                      Approx(base.fat_cover_within(old, 0.5 * cover)).margin(1e-12));
        }
    });
}

TEST_CASE("a table stretched twice there and back is what it was, to its grid") {
    for_each_model(models_as_they_are(), [](const std::string& name, const auto& loin) {
        CAPTURE(name);
        varied_profiles room(tabulate(loin, 2_mm));
        varied_profiles back(room.vary({.length = 1.25, .width = 0.8, .depth = 1.1}));
        const profile& again = back.vary({.length = 0.8, .width = 1.25, .depth = 1.0 / 1.1});
        REQUIRE(again.cells() == room.base().cells());
        const std::size_t half = again.cells() / 2;
        CHECK(static_cast<double>(again.between(0, half).count) ==
              Approx(static_cast<double>(room.base().between(0, half).count)).epsilon(2e-3));
    });
}

} // namespace varied_profiles_laws
