// What a study runs: a model that makes whole numbers of a replicate's random numbers, or says why it cannot.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <concepts>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include <tranche/study/random/random_stream.hpp>
#include <tranche/study/random/random_streams.hpp>
#include <tranche/study/summary/study_output.hpp>

namespace tranche {

/// What a model gives for each replicate, and why it may give nothing.
struct study_outline {
    std::vector<study_output> outputs{};
    std::vector<std::string> reasons{}; ///< of impossible draws: "the loin is shorter than a steak"

    friend bool operator==(const study_outline&, const study_outline&) = default;
};

/// A draw that cannot be: a loin of no length, a weight below zero. Returned by a model; counted by its reason.
struct impossible_draw {
    std::size_t reason = 0; ///< place in `study_outline::reasons`

    friend bool operator==(const impossible_draw&, const impossible_draw&) = default;
};

/// One replicate of a study: its number, and as many streams of random numbers as the model has purposes. All that a
/// model may depend on, so that the replicate is the same wherever and in whatever order it runs. Any numbers; throws
/// nothing.
class study_replicate {
public:
    /// Replicate `number` of the study with that seed.
    constexpr study_replicate(std::uint64_t seed, std::uint64_t number) noexcept : seed_(seed), number_(number) {}

    /// From 0 on.
    [[nodiscard]] constexpr std::uint64_t number() const noexcept { return number_; }
    /// The stream of one purpose, from its first draw on.
    [[nodiscard]] constexpr random_stream stream(std::uint32_t purpose = 0) const noexcept {
        return random_stream(seed_, number_, purpose);
    }

private:
    std::uint64_t seed_, number_;
};

/// Successive replicates of a study, for models that run several at once. Any numbers; throws nothing.
class study_block {
public:
    /// Replicates `first`, first + 1, ... of the study with that seed.
    constexpr study_block(std::uint64_t seed, std::uint64_t first, std::size_t count) noexcept
        : seed_(seed), first_(first), count_(count) {}

    /// How many replicates.
    [[nodiscard]] constexpr std::size_t size() const noexcept { return count_; }
    /// The streams of one purpose of all of them, side by side, from their first draws on.
    [[nodiscard]] constexpr random_streams streams(std::uint32_t purpose = 0) const noexcept {
        return {seed_, first_, count_, purpose};
    }

private:
    std::uint64_t seed_, first_;
    std::size_t count_;
};

namespace detail {

template <class Model>
concept has_workspace = requires(const Model& model) {
    model.workspace();
};

/// A model that runs several replicates at once.
template <class Model>
concept runs_blocks = has_workspace<Model> &&
    requires(const Model& model, const study_block& block, std::span<std::int64_t> outputs,
             std::remove_cvref_t<decltype(std::declval<const Model&>().workspace())>& workspace) {
    { model(block, outputs, workspace) } -> std::same_as<void>;
};

/// What a model is called with beside replicate and outputs: its workspace, or nothing.
struct no_workspace {};
template <class Model>
[[nodiscard]] auto workspace_of(const Model& model) {
    if constexpr (has_workspace<Model>)
        return model.workspace();
    else
        return no_workspace{};
}

/// What it says, nothing where it says nothing.
template <class Model, class Workspace>
auto call_model(const Model& model, const study_replicate& replicate, std::span<std::int64_t> outputs,
                Workspace& workspace) {
    const auto call = [&] {
        if constexpr (has_workspace<Model>)
            return model(replicate, outputs, workspace);
        else
            return model(replicate, outputs);
    };
    if constexpr (std::is_void_v<decltype(call())>) {
        call();
        return std::optional<impossible_draw>{};
    } else {
        return call();
    }
}

} // namespace detail

/// What `run_study` takes: `outline()`, and a call that fills the outputs of one replicate. It returns nothing, or
/// `std::optional<impossible_draw>`: then the outputs do not count; or, where parts of it can be impossible alone, a
/// `std::vector<impossible_draw>`, whose reasons are counted beside the outputs as they stand. It is called from several threads at once, so it is const and
/// keeps nothing; what it wants to use again (vectors, tables) it hands out by `workspace()`, one a thread, and is called with as a
/// third argument. What it throws fails this replicate alone.
///
/// A model with a workspace may also be callable with a `study_block` of several replicates (64 at most) in place of one: it then fills
/// output i of replicate j at i × size + j, and returns nothing. It may draw for all of them at once (`study_block::streams`), which is
/// faster, and has to come to the same as one by one: that is how they are called where the call of the block throws, which counts
/// nothing then, and where somebody may want to stop in between.
template <class Model>
concept study_model = requires(const Model& model) {
    { model.outline() } -> std::convertible_to<study_outline>;
}
&&(requires(const Model& model, const study_replicate& replicate, std::span<std::int64_t> outputs) {
    model(replicate, outputs);
} ||
   (detail::has_workspace<Model> &&
    requires(const Model& model, const study_replicate& replicate, std::span<std::int64_t> outputs) {
        requires requires(std::remove_cvref_t<decltype(model.workspace())> & workspace) {
            model(replicate, outputs, workspace);
        };
    }));

/// A model made of an outline and any function of replicate and outputs. Checks nothing: `run_study` checks the
/// outline. A call throws what the function throws.
template <class Draw>
struct study_of {
    study_outline about{};
    Draw draw;

    /// `drawn` is called with replicate and outputs.
    study_of(study_outline outline, Draw drawn) : about(std::move(outline)), draw(std::move(drawn)) {}

    /// As it was given.
    [[nodiscard]] const study_outline& outline() const { return about; }
    decltype(auto) operator()(const study_replicate& replicate, std::span<std::int64_t> outputs) const {
        return draw(replicate, outputs);
    }
};

} // namespace tranche
