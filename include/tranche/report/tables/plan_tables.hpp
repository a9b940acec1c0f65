// The tables of a plan: slabs in cutting order, and what came of each cut.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include <tranche/cost/yield/settle.hpp>
#include <tranche/cut/cutting_plan.hpp>
#include <tranche/report/formats/detail/money_cells.hpp>
#include <tranche/report/formats/kitchen_units.hpp>
#include <tranche/report/formats/report_table.hpp>
#include <tranche/units/detail/config.hpp>
#include <tranche/units/detail/snapped.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/iso_currency.hpp>

namespace tranche {

/// The units of a kitchen for a plan that is far from what kitchens cut: divisions are made finer until the thinnest slab of portions
/// is two steps thick, the lightest portion four steps and the loin sixteen steps heavy; portions of 10 kg and more are written as
/// bulk is. Others stay as they are. Reports and pages of a plan do this by themselves. O(slabs). Throws nothing.
template <class = detail::when_called>
[[nodiscard]] kitchen_units readable_units(kitchen_units units, const cutting_plan& cuts) {
    length thinnest = unlimited<length>();
    mass lightest = unlimited<mass>();
    for (const slab& s : cuts.slabs) {
        if (s.kind != slab_kind::portions) continue;
        thinnest = std::min(thinnest, s.thickness);
        lightest = std::min(lightest, to_mass(cuts.portions_of(s).back()));
    }
    units.bulk = detail::fine_enough(units.bulk, to_mass(cuts.total), 16.0);
    if (!(lightest < unlimited<mass>())) return units;
    units.portion = lightest >= 10.0 * kilogram ? units.bulk : detail::fine_enough(units.portion, lightest, 4.0);
    units.thickness = detail::fine_enough(units.thickness, thinnest, 2.0);
    units.along = detail::fine_enough(units.along, thinnest, 2.0);
    return units;
}

/// What portions cost, already written, so that the tables need not know the currency.
struct portion_costs {
    std::string currency{};             ///< empty: no costs are known
    std::vector<std::string> of_slab{}; ///< of one portion of each slab; empty text for other slabs
    std::vector<std::string> of_spec{}; ///< of one portion of each spec, from the lowest to the highest

    friend bool operator==(const portion_costs&, const portion_costs&) = default;
};

namespace detail {

/// A `costed_portion`, whatever the currency.
struct portion_figure {
    std::size_t slab = 0, spec = 0;
    std::int64_t cost = 0;
};

template <class = when_called>
[[nodiscard]] TRANCHE_COLD portion_costs costs_of(const cutting_plan& cuts, const std::vector<portion_figure>& portions,
                                                  const iso_currency& in) {
    struct spread {
        std::int64_t least = 0, most = 0;
        bool any = false;
    };
    std::vector<spread> slabs(cuts.slabs.size()), specs(cuts.specs.size());
    for (const portion_figure& p : portions)
        for (spread* s : {&slabs.at(p.slab), &specs.at(p.spec)})
            *s = {s->any ? std::min(s->least, p.cost) : p.cost, s->any ? std::max(s->most, p.cost) : p.cost, true};
    const auto texts = [&](const std::vector<spread>& spreads) {
        std::vector<std::string> all;
        for (const spread& s : spreads) {
            all.push_back(s.any ? money_number(s.least, in) : "");
            if (s.least < s.most) all.back() += "–" + money_number(s.most, in);
        }
        return all;
    };
    return {in.code, texts(slabs), texts(specs)};
}

} // namespace detail

/// The costs on a bill for each slab and spec of its plan: "8.31", or "8.31–8.32" where they differ. O(portions). Money
/// to the minor unit. `settled` is the bill of `cuts`; throws nothing but for lack of memory.
template <currency C>
[[nodiscard]] TRANCHE_COLD portion_costs costs_of(const cutting_plan& cuts, const bill<C>& settled) {
    std::vector<detail::portion_figure> portions;
    portions.reserve(settled.portions.size());
    for (const costed_portion<C>& p : settled.portions) portions.push_back({p.slab, p.spec, p.cost.minor});
    return detail::costs_of(cuts, portions, detail::iso_form<C>());
}

namespace detail {

/// What a slab is: the name of its cut, or where its meat goes: "end, to grind".
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string what_is(const slab& s, const cutting_plan& cuts) {
    if (s.kind == slab_kind::portions) return cuts.spec_of(s).name;
    const std::string kind = s.kind == slab_kind::loose ? "loose meat" : std::string(name_of(s.kind));
    return kind + ", to " + std::string(name_of(cuts.destination_of(s)));
}

} // namespace detail

namespace detail {

template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string headed_in(const std::string& head, const std::string& unit) {
    return unit.empty() ? head : head + ", " + unit;
}

/// "8 %", nothing for none of it, and never "0 %" for some.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string whole_percent(fraction share) {
    return share <= 0.0 ? "" : share < 0.005 ? "under 1 %" : percent_text(share, 0);
}

template <class = when_called>
[[nodiscard]] mass portion_mass(const slab& s, const cutting_plan& cuts) {
    return to_mass(cuts.portions_of(s).front());
}

} // namespace detail

namespace detail {

/// "2 × 7 1/4": the portions of a slab, or the weight of any other.
template <class = when_called>
[[nodiscard]] TRANCHE_COLD std::string weight_text(const slab& s, const cutting_plan& cuts,
                                                   const kitchen_units& units) {
    if (s.kind != slab_kind::portions) return number_of(to_mass(s.weight()), units.portion);
    const int pieces = cuts.spec_of(s).pieces;
    return (pieces > 1 ? std::to_string(pieces) + " × " : "") + number_of(detail::portion_mass(s, cuts), units.portion);
}

} // namespace detail

namespace detail {

/// How many of the steps that `how` writes a length is, rounded as `to_text` rounds.
[[nodiscard]] inline std::int64_t steps_of(length value, length_division how) {
    return counted(value / step_of({how.in, 1}), how.parts, "length");
}

/// Where a slab starts, and where the knife goes in behind it. On the grain of all lengths, so that two slabs agree on what lies
/// between them, whatever the last bits of their sums.
[[nodiscard]] inline length start_of(const slab& s) { return snapped(s.start); }
[[nodiscard]] inline length cut_behind(const slab& s) { return snapped(s.start + s.thickness); }

/// How thick a slab reads: from its start to its cut as those read, where both are written alike, so that what is shown adds up.
[[nodiscard]] inline length shown_thickness(const slab& s, const kitchen_units& units) {
    if (units.along != units.thickness) return s.thickness;
    const std::int64_t steps = steps_of(cut_behind(s), units.along) - steps_of(start_of(s), units.along);
    return static_cast<double>(steps) * step_of(units.along);
}

} // namespace detail

/// One row a slab, in cutting order from the rib. Columns for gluteus medius and costs stand only where there are any. Distances
/// are rounded, and a thickness is what lies between them as they read, so that distances and thicknesses add up as shown.
/// Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table slabs_table(const cutting_plan& cuts, const kitchen_units& units,
                                                    const portion_costs& costs = {}) {
    const std::string along = detail::unit_name(units.along), thick = detail::unit_name(units.thickness);
    const std::string weight = detail::unit_name(units.portion);
    const bool second_muscle =
        std::any_of(cuts.slabs.begin(), cuts.slabs.end(), [](const slab& s) { return s.gluteus_medius_share() > 0.0; });
    const auto right = report_table::align::right;
    report_table table;
    table.columns = {{"No.", right},
                     {"Cut"},
                     {detail::headed_in("From rib end", along), right},
                     {detail::headed_in("Thick", thick), right},
                     {detail::headed_in("Weight", weight), right},
                     {detail::headed_in("Trim off", weight), right}};
    if (second_muscle) table.columns.push_back({"Gluteus medius", right});
    if (!costs.currency.empty()) table.columns.push_back({"Cost each, " + costs.currency, right});
    for (std::size_t i = 0; i < cuts.slabs.size(); ++i) {
        const slab& s = cuts.slabs[i];
        report_table::row row;
        row.cells = {std::to_string(i + 1),
                     detail::what_is(s, cuts),
                     detail::number_of(detail::start_of(s), units.along),
                     detail::number_of(detail::shown_thickness(s, units), units.thickness),
                     detail::weight_text(s, cuts, units),
                     s.trim.sum().count > 0 ? detail::number_of(to_mass(s.trim.sum()), units.portion) : ""};
        if (second_muscle) row.cells.push_back(detail::whole_percent(s.gluteus_medius_share()));
        if (!costs.currency.empty()) row.cells.push_back(i < costs.of_slab.size() ? costs.of_slab[i] : "");
        table.rows.push_back(row);
    }
    return table;
}

/// "1/4, 1 3/8, 2 1/2 in": how far from the rib end the knife goes in behind each slab but the last. The spaces inside a
/// number are no-break spaces (U+00A0). Weights, lengths and prices are written in `units`; throws as `to_text` for one
/// that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD std::string cut_positions_text(const cutting_plan& cuts, const kitchen_units& units) {
    std::string text;
    for (std::size_t i = 0; i + 1 < cuts.slabs.size(); ++i) {
        text += text.empty() ? "" : ", ";
        for (const char c : detail::number_of(detail::cut_behind(cuts.slabs[i]), units.along))
            text += c == ' ' ? std::string(detail::no_break_space) : std::string(1, c);
    }
    return text.empty() ? "none" : text + std::string(detail::no_break_space) + detail::unit_name(units.along);
}

/// One row a spec: how many portions, their weight together, the lightest and the heaviest, and what one costs.
/// Weights, lengths and prices are written in `units`; throws as `to_text` for one that cannot be written.
template <class = detail::when_called>
[[nodiscard]] TRANCHE_COLD report_table portions_table(const cutting_plan& cuts, const kitchen_units& units,
                                                       const portion_costs& costs = {}) {
    const auto right = report_table::align::right;
    const std::string weight = detail::unit_name(units.portion);
    report_table table;
    table.columns = {{"Cut"},
                     {"Portions", right},
                     {detail::headed_in("Together", detail::unit_name(units.bulk)), right},
                     {detail::headed_in("Lightest", weight), right},
                     {detail::headed_in("Heaviest", weight), right}};
    if (!costs.currency.empty()) table.columns.push_back({"Cost each, " + costs.currency, right});
    struct portions {
        std::size_t count = 0;
        micrograms sum{}, lightest{}, heaviest{};
        void add(micrograms w) {
            lightest = count == 0 ? w : std::min(lightest, w);
            heaviest = std::max(heaviest, w);
            sum += w;
            ++count;
        }
    };
    std::vector<portions> of_spec(cuts.specs.size());
    for (const slab& s : cuts.slabs)
        for (const micrograms w : cuts.portions_of(s)) of_spec[s.option].add(w);
    std::size_t all = 0;
    micrograms together;
    for (std::size_t spec = 0; spec < cuts.specs.size(); ++spec) {
        const portions& p = of_spec[spec];
        all += p.count;
        together += p.sum;
        const auto weight_of = [&](micrograms m, mass_division how) {
            return p.count > 0 ? detail::number_of(to_mass(m), how) : "";
        };
        report_table::row row{.cells = {cuts.specs[spec].name, std::to_string(p.count), weight_of(p.sum, units.bulk),
                                        weight_of(p.lightest, units.portion), weight_of(p.heaviest, units.portion)}};
        if (!costs.currency.empty()) row.cells.push_back(spec < costs.of_spec.size() ? costs.of_spec[spec] : "");
        table.rows.push_back(row);
    }
    report_table::row total{
        .cells = {"all portions", std::to_string(all), detail::number_of(to_mass(together), units.bulk)},
        .total = true};
    total.cells.resize(table.columns.size());
    table.rows.push_back(total);
    return table;
}

} // namespace tranche
