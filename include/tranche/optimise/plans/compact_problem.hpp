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
#include <tranche/optimise/engine/detail/run_search.hpp>
#include <tranche/optimise/engine/detail/slab_runs.hpp>
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
/// may start, twelve bytes for each place where their numbers of cells change; and the distinct columns of the objective, eight bytes
/// a position, of which those that are constant take none. Twenty cuts at 1 mm take some 15 KB, a `cutting_problem` ten times as much.
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
        graph_.lanes.assign(problem.graph());
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
        if (largest_ < exact_) {
            doubles_.reserve(columns_.size());
            for (const auto& column : columns_) doubles_.emplace_back(column.begin(), column.end());
            columns_ = {};
        }
        if (problem.links_slabs() || !problem.graph().loose_everywhere)
            linked_ = std::make_shared<const cutting_problem>(problem);
    }

    /// What it takes in memory; of slabs that are linked, without the problem. In bytes, above zero. Throws nothing.
    [[nodiscard]] std::size_t bytes() const {
        std::size_t sum = sizeof *this + options_.capacity() * sizeof(option);
        sum += graph_.lanes.bytes();
        for (const auto& column : columns_) sum += sizeof column + column.capacity() * sizeof column[0];
        for (const auto& column : doubles_) sum += sizeof column + column.capacity() * sizeof column[0];
        return sum;
    }

private:
    friend class compact_workspace;

    static constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
    static constexpr double exact_ = 1e15; ///< sums of some numbers below this are whole in a double

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
        detail::run_lanes lanes;
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
    std::vector<std::vector<double>> doubles_;       ///< the same where they are small enough, and nothing above
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
        const bool exact = check(problem, values) < compact_problem::exact_ && !problem.linked_;
        result_.stretches.clear();
        result_.score = 0;
        if (problem.linked_) {
            set(problem, values, whole_);
            linked_objective_.options = &whole_.terms;
            const auto& found = linked_.best_path(*problem.linked_, linked_objective_);
            result_.score = found.score;
            result_.stretches = found.stretches;
        } else if (exact) {
            set(problem, values, exact_);
            search(problem, exact_);
        } else {
            set(problem, values, whole_);
            search(problem, whole_);
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

    /// What a column of terms is made of.
    struct made_of {
        signed_column worth, weight;
        double rate = 0.0;
        friend bool operator==(const made_of&, const made_of&) = default;
    };
    template <class Score>
    struct made_column {
        made_of from;
        const Score* at = nullptr; ///< the values, or the column of the problem that they are
        std::vector<Score> values;
    };
    /// What a search looks at, and the search: its numbers are doubles where these hold all scores exactly, of which compilers take
    /// several at a time.
    template <class Score>
    struct room {
        std::vector<Score> zeros;
        std::vector<made_column<Score>> columns; ///< of which so many are in use
        std::size_t used = 0;
        std::vector<detail::run_terms<Score>> terms; ///< by option
        detail::run_search<Score> search;

        [[nodiscard]] const Score* at(std::size_t column) const {
            return column == 0 ? zeros.data() : columns[column - 1].at;
        }
    };
    struct priced_cuts {
        using score_type = std::int64_t;
        const std::vector<detail::run_terms<score_type>>* options = nullptr;

        [[nodiscard]] score_type opening(std::size_t o, std::size_t from) const { return (*options)[o].opening[from]; }
        [[nodiscard]] score_type closing(std::size_t o, std::size_t to) const {
            return (*options)[o].closing[to] + (*options)[o].constant;
        }
    };

    /// No score is more than what it returns.
    [[nodiscard]] static double check(const compact_problem& problem, const cut_values& values) {
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
        double most_each = 0.0, most_rate = 0.0, most = problem.largest_;
        for (std::size_t o = 0; o < problem.options_.size(); ++o) {
            const compact_problem::option& of = problem.options_[o];
            const double rate = rate_of(problem, values, o);
            const std::int64_t each = each_of(problem, values, o);
            most_rate = std::max(most_rate, std::abs(rate));
            most_each = std::max(most_each,
                                 std::abs(static_cast<double>(each)) * static_cast<double>(of.pieces) * of.most_slabs);
            most = problem.largest_ + most_each + most_rate * problem.weight_;
            if (!(most < 4e18))
                throw invalid_input("values", std::to_string(o < loose ? rate : static_cast<double>(each)),
                                    "values that sums over a loin in 64 bits hold");
        }
        return most;
    }
    [[nodiscard]] static double rate_of(const compact_problem& problem, const cut_values& values, std::size_t o) {
        const std::size_t loose = problem.graph_.loose_count;
        const std::vector<double>& rates = o < loose ? values.loose : values.by_weight;
        return rates.empty() ? 0.0 : rates[o < loose ? o : o - loose];
    }
    [[nodiscard]] static std::int64_t each_of(const compact_problem& problem, const cut_values& values, std::size_t o) {
        const std::size_t loose = problem.graph_.loose_count;
        return o < loose || values.each.empty() ? 0 : values.each[o - loose];
    }

    template <class Score>
    void set(const compact_problem& problem, const cut_values& values, room<Score>& in) {
        in.used = 0;
        in.terms.clear();
        if (in.zeros.size() <= problem.graph_.end) in.zeros.resize(problem.graph_.end + 1);
        for (std::size_t o = 0; o < problem.options_.size(); ++o) {
            const compact_problem::option& of = problem.options_[o];
            const double rate = rate_of(problem, values, o);
            const std::size_t front = column(problem, {of.opening, of.front, -rate}, in),
                              back = column(problem, {of.closing, of.back, rate}, in);
            in.terms.push_back(
                {nullptr, nullptr, static_cast<Score>(of.constant + of.pieces * each_of(problem, values, o)), front});
            backs_.resize(o + 1);
            backs_[o] = back;
        }
        for (std::size_t o = 0; o < in.terms.size(); ++o) { // columns stay where they are from here on
            in.terms[o].opening = in.at(in.terms[o].key);
            in.terms[o].closing = in.at(backs_[o]);
        }
    }
    /// Which of the columns in use is made so; 0 of nothing.
    template <class Score>
    [[nodiscard]] static std::size_t column(const compact_problem& problem, made_of from, room<Score>& in) {
        if (from.weight.number == compact_problem::none || from.rate == 0.0) from.weight = {}, from.rate = 0.0;
        if (from == made_of{}) return 0;
        for (std::size_t k = 0; k < in.used; ++k)
            if (in.columns[k].from == from) return k + 1;
        if (in.used == in.columns.size()) in.columns.emplace_back();
        made_column<Score>& made = in.columns[in.used++];
        made.from = from;
        if (problem.doubles_.empty())
            fill(made, problem.columns_, problem.graph_.end + 1);
        else
            fill(made, problem.doubles_, problem.graph_.end + 1);
        return in.used;
    }
    template <class Score, class Kept>
    static void fill(made_column<Score>& made, const std::vector<std::vector<Kept>>& columns, std::size_t width) {
        const made_of& from = made.from;
        const bool worth = from.worth.number != compact_problem::none,
                   weight = from.weight.number != compact_problem::none;
        if constexpr (std::same_as<Score, Kept>) {
            if (worth && !weight && !from.worth.negative) {
                made.at = columns[from.worth.number].data();
                return;
            }
        }
        if (made.values.size() < width) made.values.resize(width);
        Score* const to = made.values.data();
        made.at = to;
        if (!worth) {
            std::fill(to, to + width, Score{});
        } else {
            const Kept* const of = columns[from.worth.number].data();
            if (from.worth.negative)
                for (std::size_t p = 0; p < width; ++p) to[p] = static_cast<Score>(Kept{} - of[p]);
            else
                for (std::size_t p = 0; p < width; ++p) to[p] = static_cast<Score>(of[p]);
        }
        if (!weight) return;
        const Kept* const of = columns[from.weight.number].data();
        for (std::size_t p = 0; p < width; ++p)
            to[p] += static_cast<Score>(std::llround(from.rate * static_cast<double>(of[p])));
    }

    template <class Score>
    void search(const compact_problem& problem, room<Score>& in) {
        const auto& graph = problem.graph_;
        if (graph.start == graph.end) return; // the facing takes the whole loin
        in.search.run(graph.lanes, in.terms, in.used + 1, graph.start, graph.end);
        result_.score = static_cast<std::int64_t>(in.search.score(graph.end));
        for (std::size_t to = graph.end; to > graph.start; to = result_.stretches.back().from)
            result_.stretches.push_back(last_slab(problem, in, to));
        std::reverse(result_.stretches.begin(), result_.stretches.end());
    }
    /// The one that the engine would have noted: of the earlier option, and of that the one that starts earlier.
    template <class Score>
    [[nodiscard]] static grid_slab last_slab(const compact_problem& problem, room<Score>& in, std::size_t to) {
        const auto& graph = problem.graph_;
        std::size_t place = 0;
        for (const detail::run_lane& lane : graph.lanes.lanes()) {
            const std::size_t o = lane.option, loose = graph.loose_count;
            const detail::slab_starts starts = graph.lanes.starts(lane, to, graph.end);
            const detail::run_terms<Score>& terms = in.terms[o];
            const Score wanted = in.search.score(to) - terms.closing[to] - terms.constant;
            if (lane.loose && in.search.best_loose(place++, to) != wanted) continue;
            if (starts.empty()) continue;
            if (!lane.loose && lane.stride == 1 && in.search.best(terms.key, starts) != wanted) continue;
            for (std::size_t from = starts.first; from < starts.past; from += lane.stride)
                if (in.search.score(from) + terms.opening[from] == wanted)
                    return {from, to, o < loose ? slab_kind::loose : slab_kind::portions, o < loose ? o : o - loose};
        }
        return {problem.graph_.start, to, slab_kind::loose, 0}; // not reached: some slab has the score
    }

    room<double> exact_;
    room<std::int64_t> whole_;
    std::vector<std::size_t> backs_; ///< by option: the column of what it closes with
    priced_cuts linked_objective_;
    path_workspace<priced_cuts> linked_;
    compact_plan result_;
};

} // namespace tranche
