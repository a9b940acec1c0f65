// A plan: slabs that tile the loin from the rib face to the sirloin face, each with its weight, trim and loss.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/units/amount.hpp>
#include <tranche/units/micrograms.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// `facing` squares the rib end; `portions` are a slab of a cut spec; `loose` goes to a destination; `end` is the loose
/// stretch that reaches the sirloin face.
enum class slab_kind { facing, portions, loose, end };

/// "facing", "portions", "loose" or "end". Any kind; throws nothing.
[[nodiscard]] constexpr std::string_view name_of(slab_kind kind) {
    switch (kind) {
    case slab_kind::facing: return "facing";
    case slab_kind::portions: return "portions";
    case slab_kind::loose: return "loose";
    case slab_kind::end: break;
    }
    return "end";
}

/// One slab between two cuts. It lies at [start, start + thickness); the kerf behind it is lost.
struct slab {
    slab_kind kind = slab_kind::loose;
    std::size_t option = 0; ///< index into the plan's specs for portions, into the rules' loose cuts for loose and end
    length start{}, thickness{}, kerf{};
    by_tissue<micrograms> kept{};                                                    ///< what is left after trimming
    by_tissue<micrograms> trim{};                                                    ///< what was trimmed off
    micrograms cutting_loss{};                                                       ///< what the kerf took
    fraction gluteus_medius_towards_rib = 0.0, gluteus_medius_towards_sirloin = 0.0; ///< share of the lean on each face

    /// What is kept of it, in micrograms, zero or more. Throws `invalid_input` only where 64 bits do not hold it.
    [[nodiscard]] micrograms weight() const { return kept.sum(); }
    /// Where the next slab starts, behind the kerf, in metres from the rib face. Throws nothing. Zero or more.
    [[nodiscard]] length end() const { return start + thickness + kerf; }
    /// Gluteus medius as a share of the lean that is kept, by mass; 0 without lean. 0 to 1. Throws nothing.
    [[nodiscard]] fraction gluteus_medius_share() const {
        const auto lean = (kept[tissue::eye] + kept[tissue::gluteus_medius]).count;
        return lean > 0 ? static_cast<double>(kept[tissue::gluteus_medius].count) / static_cast<double>(lean) : 0.0;
    }

    friend bool operator==(const slab&, const slab&) = default;
};

/// Slabs in order from the rib, with what they were cut by. Self-contained: it does not point into a profile. What its
/// members take is a slab of this plan, which is not checked.
struct cutting_plan {
    std::vector<slab> slabs;
    std::vector<cut_spec> specs;
    cutting_rules rules;
    length extent{};
    micrograms total{}; ///< of the loin that was cut

    /// The spec of a slab of portions. Throws nothing; other slabs have none.
    [[nodiscard]] const cut_spec& spec_of(const slab& s) const { return specs[s.option]; }

    /// Everything that was trimmed off a slab, before it was cut and after. Depths in metres. Throws nothing but for
    /// lack of memory.
    [[nodiscard]] trim_spec trim_of(const slab& s) const {
        switch (s.kind) {
        case slab_kind::facing: return rules.trim_whole;
        case slab_kind::portions: return detail::trimmed_twice(rules.trim_whole, specs[s.option].trim);
        case slab_kind::loose:
        case slab_kind::end: break;
        }
        return detail::trimmed_twice(rules.trim_whole, rules.loose[s.option].trim);
    }

    /// Where a slab that is not portions goes. Throws nothing.
    [[nodiscard]] destination destination_of(const slab& s) const {
        return s.kind == slab_kind::facing ? rules.facing_goes_to : rules.loose[s.option].goes_to;
    }

    /// The weights of the portions of one slab: equal to the microgram, larger ones first; none for other slabs. Whole
    /// micrograms that add up to the slab. Throws nothing for a slab of the plan.
    [[nodiscard]] std::vector<micrograms> portions_of(const slab& s) const {
        std::vector<micrograms> weights;
        if (s.kind != slab_kind::portions) return weights;
        const std::vector<std::int64_t> equal(static_cast<std::size_t>(spec_of(s).pieces), 1);
        for (const std::int64_t part : detail::split_by_largest_remainder(s.weight().count, equal))
            weights.push_back({part});
        return weights;
    }

    /// How many portions the plan has, of all specs. O(slabs); throws nothing.
    [[nodiscard]] std::size_t portion_count() const {
        std::size_t count = 0;
        for (const slab& s : slabs)
            if (s.kind == slab_kind::portions) count += static_cast<std::size_t>(spec_of(s).pieces);
        return count;
    }

    friend bool operator==(const cutting_plan&, const cutting_plan&) = default;
};

/// Where every microgram of a plan went: portions + by-products by destination + cutting loss = total, exactly. In
/// whole micrograms, zero or more; sums throw `invalid_input` only where 64 bits do not hold them.
struct mass_balance {
    std::vector<micrograms> portions; ///< one entry a spec
    by_destination<micrograms> loose{}, trim{};
    micrograms cutting_loss{};

    /// All portions, of every spec, zero or more.
    [[nodiscard]] micrograms portion_total() const {
        micrograms sum;
        for (const micrograms m : portions) sum += m;
        return sum;
    }
    /// All that went anywhere: the mass of the loin, zero or more.
    [[nodiscard]] micrograms total() const {
        micrograms sum = portion_total() + cutting_loss;
        for (const destination d : all_destinations) sum += loose[d] + trim[d];
        return sum;
    }

    friend bool operator==(const mass_balance&, const mass_balance&) = default;
};

/// Adds up where a plan's mass went. O(slabs). In whole micrograms, so that all of it adds up to the loin exactly.
/// Takes the plan at its word: `verify` checks it. Throws `invalid_input` only where 64 bits do not hold a sum.
[[nodiscard]] inline mass_balance balance_of(const cutting_plan& p) {
    mass_balance balance;
    balance.portions.resize(p.specs.size());
    for (const slab& s : p.slabs) {
        if (s.kind == slab_kind::portions)
            balance.portions[s.option] += s.weight();
        else
            balance.loose[p.destination_of(s)] += s.weight();
        for (const tissue t : all_tissues) balance.trim[p.rules.trim_goes_to[t]] += s.trim[t];
        balance.cutting_loss += s.cutting_loss;
    }
    return balance;
}

} // namespace tranche
