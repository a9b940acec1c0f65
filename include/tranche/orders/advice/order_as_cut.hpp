// An order cut as it was planned, by a hand that errs, from loins that are heavier or lighter than they are believed: for studies.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/cutting_plan.hpp>
#include <tranche/optimise/session/cutting_estimate.hpp>
#include <tranche/orders/order.hpp>
#include <tranche/orders/order_plan.hpp>
#include <tranche/study/random/distribution.hpp>
#include <tranche/study/run/study_model.hpp>
#include <tranche/units/detail/unfused.hpp>

namespace tranche {

/// The chance that an order is filled, as a model for `run_study`: every opened loin is cut to the thicknesses of its plan, and
/// nothing is planned again. A slab that was to be t thick and to weigh w comes out t + b + e thick, and each of its portions
/// weighs r (1 + s) (t + b + e) / t of what was planned: r ~ N(1, ratio²) for a loin, b ~ N(0, bias²) for the cutter, e ~ N(0,
/// knife²) and s ~ N(0, single_slab²) for a slab (`cutting_spreads`; ruler and scale play no part). A portion that is too light
/// is none; one that is too heavy is trimmed down and counts.
///
/// Outputs: "filled", 1 or 0, whose mean is the chance; "missing", portions below what the lines want, together; and the portions of each
/// line by its name. A replicate is the same whoever else is opened: loins have streams of their own, by their place in the order.
/// Self-contained. A replicate takes O(slabs of the opened loins).
class order_as_cut {
public:
    /// Throws `invalid_input` for a plan of another order, and what `validate` of the spreads throws. Lays out each opened loin.
    template <currency C>
    order_as_cut(const order<C>& wanted, const order_plan<C>& plan, const cutting_spreads& spreads = {})
        : spreads_(spreads) {
        validate(spreads);
        if (plan.lines.size() != wanted.lines.size())
            throw invalid_input("plan", std::to_string(plan.lines.size()) + " lines",
                                "a plan of this order, which has " + std::to_string(wanted.lines.size()));
        outline_.outputs = {{.name = "filled"}, {.name = "missing"}};
        for (const order_line<C>& line : wanted.lines) {
            outline_.outputs.push_back({.name = line.cut.name});
            at_least_.push_back(line.at_least);
        }
        std::vector<std::int64_t> before(wanted.loins.size()); // of its kind
        for (const opened_loin& opened : plan.opened) {
            const cutting_plan cuts = lay_out(wanted, opened);
            kind_of_loin kind{.first = static_cast<std::uint32_t>(opened.loin), .count = opened.count, .slabs = {}};
            kind.before = before[opened.loin];
            before[opened.loin] += opened.count;
            for (const slab& s : cuts.slabs)
                if (s.kind == slab_kind::portions && s.option < at_least_.size())
                    kind.slabs.push_back({s.option, cuts.spec_of(s).pieces, s.thickness / metre,
                                          to_mass(cuts.portions_of(s).back()) / cuts.spec_of(s).portion.min});
            loins_.push_back(std::move(kind));
        }
    }

    [[nodiscard]] const study_outline& outline() const { return outline_; }

    /// One evening. Throws nothing but for lack of memory.
    void operator()(const study_replicate& replicate, std::span<std::int64_t> outputs) const {
        const auto draw = [](random_stream& stream, double spread) {
            static const distribution standard = distribution::normal(0.0, 1.0);
            return spread * standard.quantile(stream.next_uniform());
        };
        random_stream hand = replicate.stream(0);
        const double bias = draw(hand, spreads_.bias / metre);
        std::fill(outputs.begin(), outputs.end(), 0);
        const std::span<std::int64_t> made = outputs.subspan(2);
        for (const kind_of_loin& kind : loins_)
            for (std::int64_t i = 0; i < kind.count; ++i) {
                // Others of a kind go on with numbers above those of all kinds.
                random_stream stream =
                    replicate.stream(1U + kind.first + most_kinds * static_cast<std::uint32_t>(kind.before + i));
                const double ratio = 1.0 + draw(stream, spreads_.ratio);
                for (const planned_slab& s : kind.slabs) {
                    const double knife = draw(stream, spreads_.knife / metre);
                    const double single = draw(stream, spreads_.single_slab);
                    const double thicker = 1.0 + (bias + knife) / s.thickness;
                    const double weighs = detail::unfused(ratio * (1.0 + single)) * thicker;
                    if (weighs * s.above_least >= 1.0 - same) made[s.line] += s.pieces;
                }
            }
        for (std::size_t line = 0; line < at_least_.size(); ++line)
            outputs[1] += std::max<std::int64_t>(at_least_[line] - made[line], 0);
        outputs[0] = outputs[1] == 0 ? 1 : 0;
    }

private:
    static constexpr std::uint32_t most_kinds = 1U << 16U;
    static constexpr double same = 1e-12; ///< a portion that is exactly as heavy as it has to be

    struct planned_slab {
        std::size_t line = 0;
        int pieces = 1;
        double thickness = 0.0;   ///< in metres
        double above_least = 0.0; ///< its lightest portion over the least weight of one; infinite where there is none
    };
    struct kind_of_loin {
        std::uint32_t first = 0;
        std::int64_t count = 1, before = 0;
        std::vector<planned_slab> slabs{};
    };

    cutting_spreads spreads_;
    study_outline outline_{};
    std::vector<std::int64_t> at_least_{};
    std::vector<kind_of_loin> loins_{};
};

} // namespace tranche
