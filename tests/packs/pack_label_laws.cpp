// Laws of labels over many invented packs, scales and prices.
// SPDX-License-Identifier: BSL-1.0
#include <array>
#include <cmath>
#include <cstdint>
#include <random>

#include <tranche/packs/pack_label.hpp>

#include "grind/blend_instances.hpp"
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

TEST_CASE("net_weight_of: is what rounding the exact whole numbers gives, rounded down never above what is there") {
    std::mt19937 random(21);
    for (std::uint32_t round = 0; round < blends(2000); ++round) {
        const mass_division division = scales[random() % scales.size()];
        // Whole micrograms, in eighths of one, over the parts of the division: whole numbers, and exact.
        const std::int64_t tare_count = whole(random, 0, 20'000'000);
        const std::int64_t net_count = whole(random, 10'000'000, 2'000'000'000);
        const mass tare = to_mass({tare_count}), gross = to_mass({tare_count + net_count});
        const std::int64_t one = detail::unit_in_eighths(division), scale = 8LL * division.parts;
        const net_weight near = net_weight_of(gross, tare, {division});
        const net_weight down = net_weight_of(gross, tare, {division, weight_rounding::down});
        CHECK(near.divisions == (2 * scale * net_count + one) / (2 * one));
        CHECK(down.divisions == scale * net_count / one);
        const std::int64_t packing = (scale * tare_count + one - 1) / one;
        const net_weight fair =
            net_weight_of(gross, tare, {division, weight_rounding::down, tare_rounding::up_to_division});
        CHECK(fair.divisions == scale * (tare_count + net_count) / one - packing);
        const mass again = near.weight();
        CHECK(net_weight_of(again, mass{}, {division}) == near); // what is printed weighs itself
    }
}

TEST_CASE("net_weight_of: rounds every half of a division up, in whatever unit it was written") {
    using unit = mass_division::unit;
    struct half_of {
        mass_division division;
        mass unit;
        double parts; ///< halves of the division in this unit
    };
    // A pound is 16 oz and 0.45359237 kg exactly (NIST Handbook 44, appendix C).
    const half_of halves[] = {{hundredths_of_pound, pound, 200.0},
                              {{unit::pounds, 1000}, pound, 2000.0},
                              {{unit::pounds, 1000}, ounce, 125.0},
                              {{unit::pounds, 200}, pound, 400.0},
                              {quarter_ounces, ounce, 8.0},
                              {quarter_ounces, pound, 128.0},
                              {{unit::ounces, 16}, ounce, 32.0},
                              {{unit::ounces, 16}, pound, 512.0},
                              {{unit::ounces, 10}, pound, 320.0},
                              {whole_grams, gram, 2.0},
                              {{unit::kilograms, 200}, kilogram, 400.0},
                              {{unit::kilograms, 500}, gram, 1.0}};
    for (const half_of& h : halves)
        for (const mass& tare : {mass{}, 0.5 * ounce, 4.6 * gram})
            for (std::int64_t k = 1; k < 4000; k += 2) {
                // As it is typed, and with other last bits: times a whole number, and as a sum.
                const mass typed = static_cast<double>(k) / h.parts * h.unit;
                const mass times = static_cast<double>(k) * (h.unit / h.parts);
                const mass sum = 0.3 * typed + 0.7 * typed;
                for (const mass& net : {typed, times, sum}) {
                    const std::int64_t up = net_weight_of(net + tare, tare, {h.division}).divisions;
                    if (up != (k + 1) / 2) FAIL_CHECK(k << " halves of 1/" << h.division.parts << " are " << up);
                }
                // A microgram less is less.
                if (k > 1)
                    CHECK(net_weight_of(typed + tare - to_mass({1}), tare, {h.division}).divisions == (k - 1) / 2);
            }
    CHECK(net_weight_of(18.0 * ounce, mass{}, {hundredths_of_pound}).text() == "1.13 lb");
}

TEST_CASE("net_weight_of: rounds nothing off a whole division, and takes whole divisions of packing as such") {
    for (const mass_division& division : scales)
        for (std::int64_t k = 2; k < 4000; ++k) {
            const mass typed = static_cast<double>(k) * size_of(division), other = 0.3 * typed + 0.7 * typed;
            for (const mass& net : {typed, other})
                CHECK(net_weight_of(net, mass{}, {division, weight_rounding::down}).divisions == k);
            const weighing_rules fair{division, weight_rounding::down, tare_rounding::up_to_division};
            CHECK(net_weight_of(2.0 * typed, other, fair).divisions == k);
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
