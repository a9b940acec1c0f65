// Compares choices on the same replicates: what each comes to, and what it differs from the first by.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <tranche/study/run/study_model.hpp>
#include <tranche/study/summary/exact_summary.hpp>
#include <tranche/units/invalid_input.hpp>

namespace tranche {

/// One of the choices that are compared: "25 mm", and the model that says what comes of it.
template <class Model>
struct study_choice {
    std::string name{};
    Model model;
};

/// The output of a choice in the result of a comparison: "25 mm: portions". Any text; throws nothing but for lack of
/// memory.
[[nodiscard]] inline std::string choice_output(std::string_view choice, std::string_view output) {
    return std::string(choice) + ": " + std::string(output);
}
/// The output of its difference from the first choice: "30 mm - 25 mm: portions". Any text; throws nothing but for lack
/// of memory.
[[nodiscard]] inline std::string choice_difference(std::string_view choice, std::string_view from,
                                                   std::string_view output) {
    return std::string(choice) + " - " + std::string(from) + ": " + std::string(output);
}

/// A model that runs several others on the same replicate (common random numbers), and gives the outputs of each choice
/// (`choice_output`) and, pair by pair, what each later choice differs from the first by (`choice_difference`). What loins have in
/// common falls out of a difference, so it is known far better than the difference of two studies.
///
/// Where a choice is impossible its own outputs and differences are missing, and its reason is counted ("25 mm: too short"); the
/// others count. A choice that throws fails the replicate, and is named.
template <study_model Model>
class study_comparison {
public:
    /// Throws `invalid_input` for fewer than two choices, for names that are empty or there twice, and unless all have the same outputs.
    explicit study_comparison(std::vector<study_choice<Model>> choices) : choices_(std::move(choices)) {
        if (choices_.size() < 2)
            throw invalid_input("choices", std::to_string(choices_.size()), "two or more, which can be compared");
        std::vector<study_output> outputs, differences;
        for (std::size_t c = 0; c < choices_.size(); ++c) {
            const std::string& name = choices_[c].name;
            const std::string field = "choices[" + std::to_string(c) + ']';
            if (name.empty()) throw invalid_input(field + ".name", "nothing", "a name");
            for (std::size_t earlier = 0; earlier < c; ++earlier)
                if (choices_[earlier].name == name)
                    throw invalid_input(field + ".name", name, "a name that no other choice has");
            const study_outline one = choices_[c].model.outline();
            if (c == 0)
                outputs = one.outputs;
            else if (!(one.outputs == outputs))
                throw invalid_input(field + ".model", "other outputs", "those of " + choices_[0].name);
            for (study_output output : outputs) {
                const std::string plain = output.name;
                output.name = choice_output(name, plain);
                outline_.outputs.push_back(output);
                output.name = choice_difference(name, choices_[0].name, plain);
                if (c > 0) differences.push_back(std::move(output));
            }
            first_reason_.push_back(outline_.reasons.size());
            for (const std::string& reason : one.reasons) outline_.reasons.push_back(choice_output(name, reason));
        }
        outputs_of_each_ = outputs.size();
        outline_.outputs.insert(outline_.outputs.end(), differences.begin(), differences.end());
    }

    /// The outputs of each choice, then the differences.
    [[nodiscard]] const study_outline& outline() const { return outline_; }

    /// The choices' own, one each.
    [[nodiscard]] auto workspace() const {
        std::vector<decltype(detail::workspace_of(choices_[0].model))> all;
        for (const study_choice<Model>& choice : choices_) all.push_back(detail::workspace_of(choice.model));
        return all;
    }

    template <class Workspaces>
    std::vector<impossible_draw> operator()(const study_replicate& replicate, std::span<std::int64_t> outputs,
                                            Workspaces& workspaces) const {
        std::vector<impossible_draw> reasons;
        const std::size_t n = outputs_of_each_;
        const std::span<const std::int64_t> first = outputs.first(n);
        for (std::size_t c = 0; c < choices_.size(); ++c) {
            const std::span<std::int64_t> own = outputs.subspan(c * n, n);
            count_reasons(c, call(c, replicate, own, workspaces[c]), own, reasons);
            if (c == 0) continue;
            const std::span<std::int64_t> difference = outputs.subspan((choices_.size() + c - 1) * n, n);
            for (std::size_t i = 0; i < n; ++i)
                if (own[i] != no_output && first[i] != no_output) difference[i] = own[i] - first[i];
        }
        return reasons;
    }

private:
    template <class Workspace>
    auto call(std::size_t choice, const study_replicate& replicate, std::span<std::int64_t> outputs,
              Workspace& workspace) const {
        try {
            return detail::call_model(choices_[choice].model, replicate, outputs, workspace);
        } catch (const std::exception& error) {
            throw std::runtime_error(choices_[choice].name + ": " + error.what());
        }
    }

    void count_reasons(std::size_t choice, const std::optional<impossible_draw>& verdict,
                       std::span<std::int64_t> outputs, std::vector<impossible_draw>& reasons) const {
        if (!verdict) return require_outputs(choice, outputs);
        reasons.push_back({own_reason(choice, *verdict)});
        std::fill(outputs.begin(), outputs.end(), no_output);
    }
    void count_reasons(std::size_t choice, const std::vector<impossible_draw>& parts, std::span<std::int64_t> outputs,
                       std::vector<impossible_draw>& reasons) const {
        for (const impossible_draw& part : parts) reasons.push_back({own_reason(choice, part)});
        require_outputs(choice, outputs);
    }
    /// The place of a choice's reason among all; that of no reason stays one of none.
    [[nodiscard]] std::size_t own_reason(std::size_t choice, const impossible_draw& draw) const {
        const std::size_t end = choice + 1 < choices_.size() ? first_reason_[choice + 1] : outline_.reasons.size();
        const std::size_t reason = first_reason_[choice] + draw.reason;
        return draw.reason < end && reason < end ? reason : outline_.reasons.size();
    }
    /// So that no difference overflows.
    void require_outputs(std::size_t choice, std::span<const std::int64_t> outputs) const {
        for (std::size_t i = 0; i < outputs.size(); ++i)
            if (outputs[i] != no_output)
                exact_summary::require_output(outline_.outputs[choice * outputs_of_each_ + i], outputs[i]);
    }

    std::vector<study_choice<Model>> choices_;
    study_outline outline_{};
    std::vector<std::size_t> first_reason_{};
    std::size_t outputs_of_each_ = 0;
};

} // namespace tranche
