// A plan carried out on a loin that need not be the one it was made for, by a hand that need not be exact.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <utility>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>
#include <tranche/loin/tissue.hpp>
#include <tranche/study/loins/cutting_hand.hpp>
#include <tranche/units/quantity.hpp>

namespace tranche {

/// One slab as it is meant to be: a thickness, and the mark where it ends, from the rib face.
struct intended_cut {
    slab_kind kind = slab_kind::loose;
    std::size_t option = 0; ///< as in `slab`
    length thickness{}, end{};

    friend bool operator==(const intended_cut&, const intended_cut&) = default;
};

/// The slabs of a plan as they are meant to be. O(slabs). Throws nothing of its own.
[[nodiscard]] inline std::vector<intended_cut> intended_cuts_of(const cutting_plan& cuts) {
    std::vector<intended_cut> all;
    for (const slab& s : cuts.slabs) all.push_back({s.kind, s.option, s.thickness, s.start + s.thickness});
    return all;
}

namespace detail {

/// The tables by which the slabs of a plan are weighed: one a trim, as the plan's own cuts have them, with `more` fat left where
/// the cover is limited. Those that are `known` are not made again.
class trim_tables {
public:
    /// The profile must outlive them until the next call.
    template <class Known>
    void set(const profile& meat, const cutting_plan& cuts, length more, const Known& known) {
        own_.clear();
        trims_.clear();
        const std::size_t kinds = 1 + cuts.specs.size() + cuts.rules.loose.size();
        own_.reserve(kinds);
        of_.assign(kinds, nullptr);
        for (std::size_t i = 0; i < kinds; ++i) {
            slab s{.kind = i == 0                   ? slab_kind::facing
                           : i <= cuts.specs.size() ? slab_kind::portions
                                                    : slab_kind::loose};
            s.option = i == 0 ? 0 : s.kind == slab_kind::portions ? i - 1 : i - 1 - cuts.specs.size();
            trim_spec trim = cuts.trim_of(s);
            if (trim.fat_cover < unlimited<length>()) trim.fat_cover += more;
            of_[i] = known(trim);
            for (std::size_t k = 0; k < trims_.size() && !of_[i]; ++k)
                if (trims_[k] == trim) of_[i] = &own_[k];
            if (of_[i]) continue;
            trims_.push_back(trim);
            of_[i] = &own_.emplace_back(meat, trim);
        }
        specs_ = cuts.specs.size();
    }
    [[nodiscard]] const yield_table& of(slab_kind kind, std::size_t option) const {
        switch (kind) {
        case slab_kind::facing: return *of_[0];
        case slab_kind::portions: return *of_[1 + option];
        case slab_kind::loose:
        case slab_kind::end: break;
        }
        return *of_[1 + specs_ + option];
    }

private:
    std::vector<yield_table> own_;
    std::vector<trim_spec> trims_;
    std::vector<const yield_table*> of_; ///< facing, specs, loose cuts
    std::size_t specs_ = 0;
};

/// The share of gluteus medius that has entered at a place, on a straight line between positions.
[[nodiscard]] inline fraction entered_at(const profile& meat, length at) {
    const std::span<const double> entered = meat.gluteus_medius_entered();
    if (!(entered.back() > 0.0)) return 0.0;
    const double place = std::clamp<double>(at / meat.step(), 0.0, static_cast<double>(meat.cells()));
    const std::size_t cell = std::min(static_cast<std::size_t>(place), meat.cells() - 1);
    const length width = meat.position(cell + 1) - meat.position(cell);
    const double into = std::clamp<double>((at - meat.position(cell)) / width, 0.0, 1.0);
    return entered[cell] + unfused(into * (entered[cell + 1] - entered[cell]));
}

/// Fills in what a slab from its start to its end weighs, and where its kerf ends.
inline void weigh_between(slab& s, const yield_table& trimmed, const profile& meat) {
    const length back = s.start + s.thickness, end = s.end();
    for (const tissue t : all_tissues) {
        if (meat.total(t).count == 0) continue;
        s.kept[t] = trimmed.kept_between(s.start, back, t);
        s.trim[t] = meat.mass_between(s.start, back, t) - s.kept[t];
    }
    if (s.kerf > length{}) s.cutting_loss = meat.mass_between(back, end);
    s.gluteus_medius_towards_rib = entered_at(meat, s.start);
    s.gluteus_medius_towards_sirloin = entered_at(meat, back);
}

/// Carries cuts out on a loin, into the slabs of `into`, whose specs and rules they have; false where a cut would come no further than
/// the one before it. `error()` is what the next cut errs by. What is left behind the last cut, or of a slab of portions that
/// becomes thinner than its cut allows because the loin ends, is loose meat of the first kind. A rest that differs from the last
/// slab by less than `sliver` goes with it.
template <class Error>
[[nodiscard]] bool carry_out(const profile& meat, std::span<const intended_cut> cuts, hand_follows what,
                             const Error& error, const trim_tables& tables, length sliver, cutting_plan& into) {
    into.slabs.clear();
    into.extent = meat.extent();
    into.total = meat.total();
    const length extent = meat.extent();
    length at{};
    const auto add = [&](slab s, length end) {
        const length kerf = s.kind == slab_kind::portions ? into.specs[s.option].kerf : length{};
        s.start = at;
        s.thickness = std::min(end, extent) - at;
        if (!(end < extent) && s.kind == slab_kind::loose) s.kind = slab_kind::end;
        if (!(end < extent) && s.kind == slab_kind::portions && s.thickness < into.specs[s.option].thickness.min &&
            !(end == extent))
            s.kind = slab_kind::end, s.option = 0;
        s.kerf = std::min(kerf, extent - (s.start + s.thickness));
        weigh_between(s, tables.of(s.kind, s.option), meat);
        into.slabs.push_back(s);
        at = s.end();
    };
    for (std::size_t k = 0; k < cuts.size() && at < extent; ++k) {
        const intended_cut& cut = cuts[k];
        slab s{.kind = cut.kind == slab_kind::end ? slab_kind::loose : cut.kind, .option = cut.option};
        const length rest = extent - at;
        if (k + 1 == cuts.size() &&
            (s.kind == slab_kind::loose || (rest - cut.thickness < sliver && cut.thickness - rest < sliver))) {
            add(s, extent);
            break;
        }
        const length end = (what == hand_follows::marks ? cut.end : at + cut.thickness) + error();
        if (!(end > at)) return false;
        // A loin that ends before the cut does not end at it.
        add(s, end < extent ? end : 2.0 * extent);
    }
    if (at < extent) add({.kind = slab_kind::end}, extent);
    return true;
}

} // namespace detail

} // namespace tranche
