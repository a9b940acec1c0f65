// Laws of appraisal over many invented packs: masses close, prices scale, order of the list does not matter.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/packs/pack_appraisal.hpp>
#include <tranche/units/literals.hpp>

#include <algorithm>
#include <cstdint>
#include <limits>
#include <random>
#include <vector>

#include "support/catch.hpp"

namespace pack_appraisal_laws {

using namespace tranche;
using namespace tranche::literals;
using namespace tranche_test;

namespace {

double between(std::mt19937& random, double low, double high) {
    return low + (high - low) * (static_cast<double>(random()) / 4294967295.0);
}

steak_pack<eur> invented(std::mt19937& random) {
    steak_pack<eur> pack{.name = "pack " + std::to_string(random() % 1000),
                         .weight = between(random, 150, 2500) * gram,
                         .price = between(random, 5, 60) * 1_eur / 1_kg,
                         .pieces = 1 + static_cast<int>(random() % 4)};
    pack.steak = {.thickness = between(random, 15, 45) * millimetre,
                  .fat_cover = between(random, 0, 15) * millimetre,
                  .tail = random() % 2 == 0 ? length{} : between(random, 0, 30) * millimetre,
                  .gluteus_medius = random() % 2 == 0 ? 0.0 : between(random, 0, 0.6)};
    return pack;
}

pack_wishes<eur> wishes_of(std::mt19937& random) {
    pack_wishes<eur> wishes{.gluteus_medius = random() % 2 == 0,
                            .fat_cover = between(random, 0, 10) * millimetre,
                            .tail = between(random, 0, 20) * millimetre};
    for (const tissue t : all_tissues) wishes.values[t] = between(random, -0.5, 4) * 1_eur / 1_kg;
    return wishes;
}

} // namespace

TEST_CASE("the masses of any pack add up to its weight and the excess is a part of its layer") {
    std::mt19937 random(11);
    for (int i = 0; i < 500; ++i) {
        const auto pack = invented(random);
        const auto wishes = wishes_of(random);
        const auto a = appraise<eur>(pack, wishes);
        micrograms sum;
        for (const micrograms m : a.contents.masses.values) sum += m;
        CHECK(sum == to_micrograms(pack.weight));
        CHECK(a.excess_fat.count >= 0);
        CHECK(a.excess_fat <= a.contents.masses[tissue::fat_cover]);
        CHECK(a.excess_tail <= a.contents.masses[tissue::tail]);
        CHECK((a.excess_fat.count == 0) == (pack.steak.fat_cover <= wishes.fat_cover));
        // Put back in, the price of the wanted lean pays for the pack; some ten roundings.
        const money<eur> back = *a.per_wanted * to_mass(a.wanted);
        CHECK_THAT(back.value(), WithinRel(pack.bought().cost().value(), 1e-14));
        money<eur> with_credits = *a.per_wanted_credited * to_mass(a.wanted);
        for (const tissue t : all_tissues)
            if (t != tissue::eye && !(t == tissue::gluteus_medius && wishes.gluteus_medius))
                with_credits += to_mass(a.contents.masses[t]) * wishes.values[t];
        CHECK_THAT(with_credits.value(), WithinRel(pack.bought().cost().value(), 1e-13));
    }
}

TEST_CASE("twice the price makes the wanted lean twice as dear and changes no mass") {
    std::mt19937 random(12);
    for (int i = 0; i < 200; ++i) {
        auto pack = invented(random);
        const auto one = appraise<eur>(pack);
        pack.price *= 2.0;
        const auto two = appraise<eur>(pack);
        CHECK(two.per_wanted->value() == 2.0 * one.per_wanted->value()); // a power of two rounds nothing
        CHECK(two.contents.masses == one.contents.masses);
    }
}

TEST_CASE("packs of one price but for the last bits rank by name, wherever the price lies") {
    // Nothing but eye, so that the wanted lean costs the price on the label.
    steak_pack<eur> pack{.weight = 1_kg, .steak = {.thickness = 30_mm}, .section = face{}};
    pack.section->areas[tissue::eye] = 60_mm * 100_mm;
    for (int i = 0; i < 400; ++i) {
        // Steps of a quarter of a millionth of a cent.
        const double price = 12.34567890 + 0.25e-8 * i, noise = 4.0 * std::numeric_limits<double>::epsilon();
        steak_pack<eur> a = pack, b = pack;
        a.name = "a";
        b.name = "b";
        a.price = price * (1.0 + noise) * 1_eur / 1_kg;
        b.price = price * (1.0 - noise) * 1_eur / 1_kg;
        const auto ranked = rank_packs<eur>({b, a});
        REQUIRE(ranked[0].per_wanted_credited != ranked[1].per_wanted_credited);
        CHECK(ranked[0].pack.name == "a");
        // Two that are apart are, whatever their names.
        a.price = (price + 2e-8) * 1_eur / 1_kg;
        CHECK(rank_packs<eur>({a, b})[0].pack.name == "b");
    }
}

TEST_CASE("the ranking does not depend on the order of the list") {
    std::mt19937 random(13);
    std::vector<steak_pack<eur>> packs;
    for (int i = 0; i < 60; ++i) packs.push_back(invented(random));
    for (std::size_t i = 0; i < packs.size(); ++i) packs[i].name += " no " + std::to_string(i); // no two alike
    packs.push_back(packs[3]);
    packs.back().name = "the same again";
    const auto wishes = wishes_of(random);
    const auto first = rank_packs<eur>(packs, wishes);
    for (int round = 0; round < 20; ++round) {
        for (std::size_t i = packs.size() - 1; i > 0; --i) std::swap(packs[i], packs[random() % (i + 1)]);
        const auto again = rank_packs<eur>(packs, wishes);
        for (std::size_t i = 0; i < first.size(); ++i) CHECK(again[i].pack.name == first[i].pack.name);
    }
    for (std::size_t i = 1; i < first.size(); ++i)
        CHECK(first[i - 1].per_wanted_credited->value() <= first[i].per_wanted_credited->value() + 1e-8);
}

} // namespace pack_appraisal_laws
