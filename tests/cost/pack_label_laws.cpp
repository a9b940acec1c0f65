// Laws of labels over many invented packs, scales and prices.
// SPDX-License-Identifier: BSL-1.0
#include <array>
#include <cmath>
#include <cstdint>
#include <random>

#include <tranche/cost/pack_label.hpp>

#include "cost/blend_instances.hpp"
#include "support/catch.hpp"

namespace pack_label_laws {

using namespace tranche;
using namespace tranche_test;

namespace {

constexpr std::array scales{mass_division{mass_division::unit::kilograms, 200},
                            mass_division{mass_division::unit::kilograms, 500}, whole_grams, hundredths_of_pound,
                            quarter_ounces};
constexpr std::array bases{price_basis::per_kilogram, price_basis::per_pound, price_basis::per_ounce,
                           price_basis::per_100_grams};

} // namespace

TEST_CASE("net_weight_of: is within half a division, and rounded down never above what is there") {
    std::mt19937 random(21);
    for (std::uint32_t round = 0; round < blends(2000); ++round) {
        const mass_division division = scales[random() % scales.size()];
        const mass tare = to_mass({whole(random, 0, 20'000'000)});
        const mass gross = tare + to_mass({whole(random, 10'000'000, 2'000'000'000)});
        const double in_divisions = (gross - tare) / size_of(division); // an ulp or two of 1e6: 1e-9
        const net_weight near = net_weight_of(gross, tare, {division});
        const net_weight down = net_weight_of(gross, tare, {division, weight_rounding::down});
        CHECK(std::abs(static_cast<double>(near.divisions) - in_divisions) <= 0.5 + 1e-9);
        CHECK(static_cast<double>(down.divisions) <= in_divisions + 1e-9);
        CHECK(static_cast<double>(down.divisions) > in_divisions - 1.0 - 1e-9);
        const net_weight fair =
            net_weight_of(gross, tare, {division, weight_rounding::down, tare_rounding::up_to_division});
        CHECK(fair.divisions <= down.divisions);
        CHECK(fair.divisions >= down.divisions - 1);
        const mass again = near.weight();
        CHECK(net_weight_of(again, mass{}, {division}) == near); // what is printed weighs itself
    }
}

TEST_CASE("total_price: is within half a minor unit of the product, and never falls with weight or price") {
    std::mt19937 random(22);
    for (std::uint32_t round = 0; round < blends(2000); ++round) {
        const net_weight net{whole(random, 1, 20'000), scales[random() % scales.size()]};
        const label_price<usd> price{{whole(random, 0, 9'999)}, bases[random() % bases.size()]};
        for (const rounding how : {rounding::half_even, rounding::half_up}) {
            const amount<usd> total = total_price(net, price, how);
            // Products of at most 1e8 cents carry 1e-7 of rounding.
            const double exact = net.weight() / detail::basis_mass(price.basis) * static_cast<double>(price.each.minor);
            CHECK(std::abs(static_cast<double>(total.minor) - exact) <= 0.5 + 1e-7);
            CHECK(total_price({net.divisions + 1, net.division}, price, how) >= total);
            CHECK(total_price(net, label_price<usd>{price.each + amount<usd>{1}, price.basis}, how) >= total);
        }
        CHECK(total_price(net, price, rounding::half_up) >= total_price(net, price, rounding::half_even));
    }
}

} // namespace pack_label_laws
