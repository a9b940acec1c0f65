// A request made ready for planning: for every way to use a stretch of the loin, its weights and its windows.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cut_spec.hpp>
#include <tranche/cut/lay_out.hpp>
#include <tranche/cut/yield_table.hpp>
#include <tranche/loin/profile.hpp>

namespace tranche {

/// Which slabs [from, to) of one option are allowed, all in positions and micrograms.
struct option_window {
    std::size_t least_cells = 1, most_cells = 0;    ///< to - from, where `to` is not the sirloin face
    std::size_t first_to_end = 1, last_to_end = 0;  ///< `from` of a slab that ends at the sirloin face
    std::size_t past_from = 0, past_to = 0;         ///< the gluteus medius rule: from < past_from and to < past_to
    std::int64_t least_weight = 0, most_weight = 0; ///< of the trimmed slab
};

/// The options of a request are its loose cuts, then its specs: option o is loose cut o or, from `loose_count()` on, spec
/// o - loose_count(). On ties the earlier option wins, so loose meat gathers at the sirloin end.
///
/// A slab [from, to) of option o weighs back(o)[to] - front(o)[from]: the kerf behind it is already taken off. Both never
/// fall from one position to the next. The profile must outlive the problem. Building it is O(cells × options).
class cutting_problem {
public:
    /// Throws `invalid_input` for specs or rules that are impossible in themselves or on this loin.
    cutting_problem(const profile& meat, std::vector<cut_spec> specs, cutting_rules rules)
        : meat_(&meat), specs_(std::move(specs)), rules_(std::move(rules)) {
        validate(specs_);
        validate(rules_, meat.extent());
        start_ = position_behind_facing(meat, rules_);
        for (const loose_cut& loose : rules_.loose) add_loose(loose);
        for (const cut_spec& spec : specs_) add_portions(spec);
    }

    [[nodiscard]] const profile& meat() const { return *meat_; }
    [[nodiscard]] const std::vector<cut_spec>& specs() const { return specs_; }
    [[nodiscard]] const cutting_rules& rules() const { return rules_; }

    /// The same request for what is left of the loin: slabs lie behind position `start` (0 to cells(); the facing is no
    /// longer looked at), and all of it weighs `mass_ratio` (above zero) times what the profile says. The tables stay as
    /// they are, in micrograms of the profile; the limits of the weights are divided by the ratio and rounded inwards.
    /// Calls do not add up: `plan_rest(start(), 1.0)` is the whole request again. O(options).
    void plan_rest(std::size_t start, double mass_ratio) {
        if (start > cells())
            throw invalid_input("start", std::to_string(start),
                                "at most the last position, " + std::to_string(cells()));
        require_positive(mass_ratio, "mass_ratio");
        start_ = start;
        for (std::size_t o = 0; o < option_count(); ++o) {
            option_window& w = windows_[o];
            if (!is_portion(o)) {
                w.first_to_end = start;
                continue;
            }
            const cut_spec& spec = spec_of(o);
            w.least_weight = divided(slab_limit(spec.portion.min, spec.pieces), mass_ratio, std::ceil);
            w.most_weight = divided(slab_limit(spec.portion.max, spec.pieces), mass_ratio, std::floor);
        }
    }

    /// The first position behind the facing, or where the rest starts.
    [[nodiscard]] std::size_t start() const { return start_; }
    [[nodiscard]] std::size_t cells() const { return meat_->cells(); }
    [[nodiscard]] std::size_t option_count() const { return windows_.size(); }
    [[nodiscard]] std::size_t loose_count() const { return rules_.loose.size(); }
    [[nodiscard]] bool is_portion(std::size_t option) const { return option >= loose_count(); }
    [[nodiscard]] const cut_spec& spec_of(std::size_t option) const { return specs_[option - loose_count()]; }
    /// Portions that a slab of this option gives: 0 for loose meat.
    [[nodiscard]] int pieces(std::size_t option) const { return is_portion(option) ? spec_of(option).pieces : 0; }
    [[nodiscard]] length kerf(std::size_t option) const { return is_portion(option) ? spec_of(option).kerf : length{}; }

    /// What comes off, on the whole loin and on the slab.
    [[nodiscard]] const trim_spec& trim(std::size_t option) const { return trims_[option]; }
    [[nodiscard]] const option_window& window(std::size_t option) const { return windows_[option]; }
    [[nodiscard]] std::span<const std::int64_t> front(std::size_t option) const { return tables_[option].kept(); }
    [[nodiscard]] std::span<const std::int64_t> back(std::size_t option) const {
        return backs_[option].empty() ? front(option) : std::span<const std::int64_t>(backs_[option]);
    }
    /// Micrograms of the trimmed slab.
    [[nodiscard]] std::int64_t weight(std::size_t option, std::size_t from, std::size_t to) const {
        return back(option)[to] - front(option)[from];
    }

    /// Whether [from, to) may be a slab of this option. Loose meat may be as thin as it comes at either end of the loin.
    [[nodiscard]] bool allows(std::size_t option, std::size_t from, std::size_t to) const {
        const option_window& w = windows_[option];
        if (from < start_ || to <= from || to > cells()) return false;
        if (!is_portion(option)) return from == start_ || to == cells() || to - from >= w.least_cells;
        const bool thickness = to == cells() ? w.first_to_end <= from && from <= w.last_to_end
                                             : w.least_cells <= to - from && to - from <= w.most_cells;
        const std::int64_t slab = weight(option, from, to);
        return thickness && from < w.past_from && to < w.past_to && w.least_weight <= slab && slab <= w.most_weight;
    }

private:
    static constexpr double slack = 1e-9; // of a step: what a conversion from inches may cost
    /// Stands for "no limit"; far enough from the ends of 64 bits to be added to a weight.
    static constexpr std::int64_t no_limit = std::numeric_limits<std::int64_t>::max() / 4;

    void add_loose(const loose_cut& loose) {
        option_window w;
        w.least_cells = whole_steps(std::ceil(loose.least_thickness / meat_->step() - slack), 1);
        w.most_cells = w.last_to_end = cells();
        w.past_from = w.past_to = cells() + 1;
        w.first_to_end = start_;
        w.most_weight = no_limit;
        windows_.push_back(w);
        trims_.push_back(trimmed_twice(rules_.trim_whole, loose.trim));
        tables_.emplace_back(*meat_, trims_.back());
        backs_.emplace_back();
    }

    void add_portions(const cut_spec& spec) {
        const double step = meat_->step().value(), kerf = spec.kerf.value();
        const double thin = spec.thickness.min.value(), thick = spec.thickness.max.value();
        const bool narrow = thick - thin < step;
        option_window w;
        double least = std::ceil((thin + kerf) / step - slack), most = std::floor((thick + kerf) / step + slack);
        if (least > most && narrow) { // no position inside: the nearest one, unless it is where the knife starts
            const double nearest = std::round((0.5 * (thin + thick) + kerf) / step);
            if (nearest * step > kerf && nearest >= 1.0) least = most = nearest;
        }
        w.least_cells = whole_steps(least, 1);
        w.most_cells = whole_steps(most, 0);

        // Behind the sirloin face there is nothing to cut, and the last cell may be short.
        const double extent = meat_->extent().value(), last_start = static_cast<double>(cells()) - 1.0;
        double first = std::ceil((extent - thick) / step - slack), last = std::floor((extent - thin) / step + slack);
        if (first > last && narrow) first = last = std::round((extent - 0.5 * (thin + thick)) / step);
        first = std::max(first, 0.0);
        if (first <= last && first <= last_start) {
            w.first_to_end = static_cast<std::size_t>(first);
            w.last_to_end = static_cast<std::size_t>(std::min(last, last_start));
        }

        w.past_from = positions_with(spec.gluteus_medius.towards_rib);
        w.past_to = positions_with(spec.gluteus_medius.towards_sirloin);
        w.least_weight = slab_limit(spec.portion.min, spec.pieces);
        w.most_weight = slab_limit(spec.portion.max, spec.pieces);
        windows_.push_back(w);
        trims_.push_back(trimmed_twice(rules_.trim_whole, spec.trim));
        tables_.emplace_back(*meat_, trims_.back());
        backs_.push_back(spec.kerf > length{} ? masses_in_front_of_kerf(tables_.back(), spec.kerf)
                                              : std::vector<std::int64_t>{});
    }

    [[nodiscard]] std::size_t whole_steps(double steps, std::size_t least) const {
        return std::clamp(static_cast<std::size_t>(std::clamp(steps, 0.0, static_cast<double>(cells()))), least,
                          cells());
    }

    /// How many positions there are before the gluteus medius share first exceeds `share`.
    [[nodiscard]] std::size_t positions_with(fraction share) const {
        const auto entered = meat_->gluteus_medius_entered();
        return static_cast<std::size_t>(std::upper_bound(entered.begin(), entered.end(), share) - entered.begin());
    }

    [[nodiscard]] static std::int64_t slab_limit(mass portion, int pieces) {
        if (!(to_mass({no_limit / 100}) > portion)) return no_limit;
        return to_micrograms(portion).count * pieces;
    }

    /// A limit of the true weight as one of the profile's. Whole micrograms below nine tonnes are exact as doubles.
    [[nodiscard]] static std::int64_t divided(std::int64_t limit, double ratio, double (*rounded)(double)) {
        const double quotient = rounded(static_cast<double>(limit) / ratio);
        if (limit == no_limit || !(quotient < static_cast<double>(no_limit))) return no_limit;
        return static_cast<std::int64_t>(quotient);
    }

    [[nodiscard]] std::vector<std::int64_t> masses_in_front_of_kerf(const yield_table& table, length kerf) const {
        std::vector<std::int64_t> masses(cells() + 1);
        for (std::size_t j = 1; j < cells(); ++j)
            masses[j] = table.kept_before(place::of(*meat_, meat_->position(j) - kerf));
        masses[cells()] = table.kept().back();
        return masses;
    }

    const profile* meat_;
    std::vector<cut_spec> specs_;
    cutting_rules rules_;
    std::size_t start_ = 0;
    std::vector<trim_spec> trims_;
    std::vector<yield_table> tables_;
    std::vector<std::vector<std::int64_t>> backs_; ///< empty where there is no kerf: then it is the front
    std::vector<option_window> windows_;
};

} // namespace tranche
