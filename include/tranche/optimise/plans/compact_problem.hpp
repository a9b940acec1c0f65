// What prices do not change of a problem, in little room: for planning many loins again and again at prices set anew.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include <tranche/cut/lay_out.hpp>
#include <tranche/optimise/engine/best_path.hpp>
#include <tranche/optimise/engine/detail/lane_filler.hpp>
#include <tranche/optimise/engine/detail/packed_lane.hpp>
#include <tranche/optimise/request/cutting_problem.hpp>
#include <tranche/optimise/want/objective.hpp>
#include <tranche/units/detail/when_called.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// What is added to the scores of a `compact_problem`, in units of its objective: to those of `worth_objective` in billionths of the
/// currency, so that a price in 1/kg is the same number for a microgram. An empty list adds nothing.
struct cut_values {
    std::vector<std::int64_t> each{}; ///< by spec, for a portion
    std::vector<double>
        by_weight{}; ///< by spec, for a microgram of portions; each cumulative worth is rounded to whole units
    std::vector<double> loose{}; ///< by loose cut, for a microgram of that
};

/// What may be asked of a `compact_problem`.
enum class kept_weights {
    none, ///< values for portions alone
    all   ///< values by weight too: 16 bytes a position for each trim and kerf
};

/// The best plan of a `compact_problem` at some values.
struct compact_plan {
    std::int64_t score = 0;
    std::vector<std::size_t> portions{}; ///< by spec
    std::vector<grid_slab> stretches{};  ///< for `lay_out`, from the facing to the sirloin face; not evened out

    friend bool operator==(const compact_plan&, const compact_plan&) = default;
};

class compact_workspace;

/// A problem and its objective as far as values of cuts do not change them: of each option where the slabs that end at a position
/// may start, two bytes a position where slabs have no more than 255 cells; and the distinct columns of the objective, eight bytes a
/// position, of which those that are constant take none. Twenty cuts at 1 mm take some 20 KB, a `cutting_problem` ten times as much.
/// Everything is a copy, so nothing has to outlive it, unless slabs are linked (an order of cuts, one thickness), cuts pinned, or
/// loose meat must not lie everywhere: then it keeps the whole problem, whose profile has to. Building it is O(positions × options).
class compact_problem {
public:
    /// Scores are those of the objective, separable in whole numbers, as `worth_objective(problem, prices)`, and
    /// `cut_values`. Weights are micrograms, lengths whole cells of the profile. Throws nothing but for lack of memory,
    /// and what the objective throws.
    template <separable_objective O>
    requires std::same_as<typename O::score_type, std::int64_t> compact_problem(
        const cutting_problem& problem, const O& objective, kept_weights weights = kept_weights::none)
        : graph_{problem.start(), problem.cells(), problem.loose_count(), {}},
          has_weights_(weights == kept_weights::all), weight_(static_cast<double>(problem.meat().total().count)) {
        graph_.lanes.reserve(problem.graph().lanes.size());
        for (const detail::slab_lane& lane : problem.graph().lanes) graph_.lanes.emplace_back(lane, graph_.end);
        options_.reserve(problem.option_count());
        for (std::size_t o = 0; o < problem.option_count(); ++o) {
            option& of = options_.emplace_back();
            of.pieces = problem.pieces(o);
            of.most_slabs = static_cast<double>(graph_.end) / static_cast<double>(problem.window(o).least_cells) + 1.0;
            of.opening = kept([&](std::size_t p) { return objective.opening(o, p); }, &of.constant);
            of.closing = kept([&](std::size_t p) { return objective.closing(o, p); }, &of.constant);
            if (!has_weights_) continue;
            of.front = kept([&](std::size_t p) { return problem.front(o)[p]; });
            of.back = kept([&](std::size_t p) { return problem.back(o)[p]; });
        }
        columns_.shrink_to_fit();
        if (problem.links_slabs() || !problem.graph().loose_everywhere)
            linked_ = std::make_shared<const cutting_problem>(problem);
    }

    /// What it takes in memory; of slabs that are linked, without the problem. In bytes, above zero. Throws nothing.
    [[nodiscard]] std::size_t bytes() const {
        std::size_t sum =
            sizeof *this + options_.capacity() * sizeof(option) + columns_.capacity() * sizeof columns_[0];
        for (const detail::packed_lane& lane : graph_.lanes) sum += lane.bytes();
        for (const auto& column : columns_) sum += column.capacity() * sizeof column[0];
        return sum;
    }

private:
    friend class compact_workspace;

    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();

    struct signed_column {
        std::uint32_t number = none; ///< zeros if none
        bool negative = false;
        friend bool operator==(const signed_column&, const signed_column&) = default;
    };
    struct option {
        signed_column opening, closing, front, back;
        std::int64_t constant = 0, pieces = 0;
        double most_slabs = 0.0;
    };
    struct packed_graph {
        std::size_t start = 0, end = 0, loose_count = 0;
        std::vector<detail::packed_lane> lanes;
    };

    /// A column that is there only once, and not if it is all zeros; less its first entry, if there is somewhere to put that.
    template <class Value>
    [[nodiscard]] signed_column kept(const Value& value, std::int64_t* constant = nullptr) {
        std::vector<std::int64_t> column(graph_.end + 1);
        const std::int64_t less = constant ? value(graph_.start) : 0;
        if (constant) *constant += less;
        signed_column found;
        bool any = false;
        for (std::size_t p = graph_.start; p <= graph_.end; ++p) {
            const std::int64_t v = value(p) - less;
            largest_ = std::max(largest_, std::abs(static_cast<double>(v) + static_cast<double>(less)));
            if (!any && v != 0) any = true, found.negative = v < 0;
            column[p] = found.negative ? -v : v;
        }
        if (!any) return {};
        const auto same = std::find(columns_.begin(), columns_.end(), column);
        found.number = static_cast<std::uint32_t>(same - columns_.begin());
        if (same == columns_.end()) columns_.push_back(std::move(column));
        return found;
    }

    packed_graph graph_;
    std::vector<option> options_;
    std::vector<std::vector<std::int64_t>> columns_; ///< the first entry that is not zero is positive
    bool has_weights_ = false;
    double weight_ = 0.0, largest_ = 0.0;           ///< of the loin, in micrograms; of the objective
    std::shared_ptr<const cutting_problem> linked_; ///< where slabs are linked
};

/// Room to plan compact problems in, of whatever sizes, one after the other: nothing is allocated once it has seen one as large, but
/// where slabs are linked. Not to be shared by threads.
class compact_workspace {
public:
    /// The best plan by the problem's objective and what is added to it: the plan of `best_path`, ties too, for the
    /// objective opening(o, from) - llround(by_weight × front), closing(o, to) + llround(by_weight × back) + pieces ×
    /// each. Valid until the next call. O(positions × cuts): where the opening of a slab does not tell cuts apart, they
    /// share what is looked up. Throws `invalid_input` for lists of another length, for values by weight where none
    /// were kept, and for values that sums of 64 bits do not hold. Scores are in units of the objective, weights in
    /// micrograms.
    template <class = detail::when_called>
    const compact_plan& plan(const compact_problem& problem, const cut_values& values) {
        set(problem, values);
        result_.stretches.clear();
        if (problem.linked_) {
            const auto& found = linked_.best_path(*problem.linked_, objective_);
            result_.score = found.score;
            result_.stretches = found.stretches;
        } else {
            search(problem);
        }
        result_.portions.assign(problem.options_.size() - problem.graph_.loose_count, 0);
        for (const grid_slab& s : result_.stretches)
            if (s.kind == slab_kind::portions)
                result_.portions[s.option] +=
                    static_cast<std::size_t>(problem.options_[problem.graph_.loose_count + s.option].pieces);
        return result_;
    }

private:
    using signed_column = compact_problem::signed_column;

    struct priced_cuts {
        using score_type = std::int64_t;
        struct terms {
            const std::int64_t *front, *back;
            std::int64_t constant;
            std::size_t ranges;

            [[nodiscard]] score_type opening(std::size_t from) const { return front[from]; }
            [[nodiscard]] score_type closing(std::size_t to) const { return back[to] + constant; }
        };
        std::vector<terms> options;
        std::vector<detail::range_maximum<score_type>> shared;

        [[nodiscard]] const terms& terms_of(std::size_t option) const { return options[option]; }
        [[nodiscard]] score_type opening(std::size_t o, std::size_t from) const { return options[o].opening(from); }
        [[nodiscard]] score_type closing(std::size_t o, std::size_t to) const { return options[o].closing(to); }
        [[nodiscard]] auto ranges(std::size_t option) const { return shared[options[option].ranges].intervals(); }
    };
    /// What a column of terms is made of.
    struct made_of {
        signed_column worth, weight;
        double rate = 0.0;
        friend bool operator==(const made_of&, const made_of&) = default;
    };
    using entry = detail::best_score<std::int64_t>;
    using filler = detail::lane_filler<priced_cuts, entry, detail::packed_lane>;

    static void check(const compact_problem& problem, const cut_values& values) {
        const std::size_t loose = problem.graph_.loose_count, specs = problem.options_.size() - loose;
        const auto require_length = [](const char* name, std::size_t given, std::size_t expected) {
            if (given != 0 && given != expected)
                throw invalid_input(name, std::to_string(given) + " values",
                                    "none, or one for each of " + std::to_string(expected) + " cuts");
        };
        require_length("each", values.each.size(), specs);
        require_length("by_weight", values.by_weight.size(), specs);
        require_length("loose", values.loose.size(), loose);
        if (!problem.has_weights_ && !(values.by_weight.empty() && values.loose.empty()))
            throw invalid_input("by_weight", "values by weight",
                                "none, as the problem was made without kept_weights::all");
    }

    template <class = detail::when_called>
    void set(const compact_problem& problem, const cut_values& values) {
        check(problem, values);
        const std::size_t loose = problem.graph_.loose_count;
        problem_ = &problem;
        used_ = 0;
        objective_.options.clear();
        double most_each = 0.0, most_rate = 0.0;
        if (zeros_.size() <= problem.graph_.end) zeros_.resize(problem.graph_.end + 1);
        for (std::size_t o = 0; o < problem.options_.size(); ++o) {
            const compact_problem::option& of = problem.options_[o];
            const std::vector<double>& rates = o < loose ? values.loose : values.by_weight;
            const double rate = rates.empty() ? 0.0 : rates[o < loose ? o : o - loose];
            const std::int64_t each = o < loose || values.each.empty() ? 0 : values.each[o - loose];
            most_rate = std::max(most_rate, std::abs(rate));
            most_each = std::max(most_each,
                                 std::abs(static_cast<double>(each)) * static_cast<double>(of.pieces) * of.most_slabs);
            if (!(problem.largest_ + most_each + most_rate * problem.weight_ < 4e18))
                throw invalid_input("values", std::to_string(o < loose ? rate : static_cast<double>(each)),
                                    "values that sums over a loin in 64 bits hold");
            const std::size_t front = column({of.opening, of.front, -rate});
            objective_.options.push_back(
                {at(front), at(column({of.closing, of.back, rate})), of.constant + of.pieces * each, front});
        }
    }
    /// Which of the columns in use is made so; 0 of nothing.
    template <class = detail::when_called>
    [[nodiscard]] std::size_t column(made_of from) {
        if (from.weight.number == compact_problem::none || from.rate == 0.0) from.weight = {}, from.rate = 0.0;
        if (from == made_of{}) return 0;
        for (std::size_t k = 0; k < used_; ++k)
            if (columns_[k].from == from) return k + 1;
        if (used_ == columns_.size()) columns_.emplace_back();
        columns_[used_].from = from;
        std::vector<std::int64_t>& to = columns_[used_].values;
        const std::size_t width = problem_->graph_.end + 1;
        to.assign(width, 0);
        if (from.worth.number != compact_problem::none) {
            const std::vector<std::int64_t>& worth = problem_->columns_[from.worth.number];
            for (std::size_t p = 0; p < width; ++p) to[p] = from.worth.negative ? -worth[p] : worth[p];
        }
        if (from.weight.number != compact_problem::none) {
            const std::vector<std::int64_t>& weight = problem_->columns_[from.weight.number];
            for (std::size_t p = 0; p < width; ++p) to[p] += std::llround(from.rate * static_cast<double>(weight[p]));
        }
        return ++used_;
    }
    [[nodiscard]] const std::int64_t* at(std::size_t column) const {
        return column == 0 ? zeros_.data() : columns_[column - 1].values.data();
    }

    template <class = detail::when_called>
    void search(const compact_problem& problem) {
        const auto& graph = problem.graph_;
        result_.score = 0;
        if (graph.start == graph.end) return; // the facing takes the whole loin
        best_.resize(graph.end + 1);
        best_[graph.start] = {};
        if (fillers_.size() < graph.lanes.size()) fillers_.resize(graph.lanes.size());
        if (objective_.shared.size() <= used_) objective_.shared.resize(used_ + 1);
        longest_.assign(used_ + 1, 0);
        for (std::size_t k = 0; k < graph.lanes.size(); ++k) {
            const detail::packed_lane& lane = graph.lanes[k];
            fillers_[k].restart(graph, lane, objective_, best_.data(), lane.option());
            if (lane.option() < graph.loose_count || lane.stride() > 1) continue;
            const detail::slab_starts last = lane.to(graph.end);
            std::size_t& longest = longest_[objective_.options[lane.option()].ranges];
            longest = std::max({longest, lane.most_starts(), last.empty() ? 0 : std::size_t{last.past - last.first}});
        }
        for (std::size_t g = 0; g <= used_; ++g) objective_.shared[g].restart(graph.start, graph.end, longest_[g]);
        detail::fill_positions(fillers_, graph.lanes.size(), best_.data(), {graph.start, graph.end},
                               detail::cells_a_block(graph), [&](std::size_t past) {
                                   for (std::size_t g = 0; g <= used_; ++g) {
                                       if (longest_[g] == 0) continue;
                                       const std::int64_t* const opening = at(g);
                                       objective_.shared[g].enter(
                                           past, [&](std::size_t p) { return best_[p].score + opening[p]; });
                                   }
                               });
        result_.score = best_[graph.end].score;
        for (std::size_t to = graph.end; to > graph.start; to = result_.stretches.back().from)
            result_.stretches.push_back(last_slab(problem, to));
        std::reverse(result_.stretches.begin(), result_.stretches.end());
    }
    /// The one that the engine would have noted: of the earlier option, and of that the one that starts earlier.
    template <class = detail::when_called>
    [[nodiscard]] grid_slab last_slab(const compact_problem& problem, std::size_t to) const {
        for (const detail::packed_lane& lane : problem.graph_.lanes) {
            const std::size_t o = lane.option(), loose = problem.graph_.loose_count;
            const detail::slab_starts starts = lane.to(to);
            const priced_cuts::terms& terms = objective_.options[o];
            const std::int64_t wanted = best_[to].score - terms.closing(to);
            if (starts.empty() || (o >= loose && lane.stride() == 1 && objective_.ranges(o).best(starts) != wanted))
                continue;
            for (std::size_t from = starts.first; from < starts.past; from += lane.stride())
                if (best_[from].score + terms.opening(from) == wanted)
                    return {from, to, o < loose ? slab_kind::loose : slab_kind::portions, o < loose ? o : o - loose};
        }
        return {problem.graph_.start, to, slab_kind::loose, 0}; // not reached: some slab has the score
    }

    struct made_column {
        made_of from;
        std::vector<std::int64_t> values;
    };
    const compact_problem* problem_ = nullptr;
    std::vector<std::int64_t> zeros_;
    std::vector<made_column> columns_; ///< of which so many are in use
    std::size_t used_ = 0;
    std::vector<std::size_t> longest_; ///< by column: the most starts that a slab with this opening has to one end
    priced_cuts objective_;
    std::vector<entry> best_;
    std::vector<filler> fillers_;
    path_workspace<priced_cuts> linked_;
    compact_plan result_;
};

} // namespace tranche
