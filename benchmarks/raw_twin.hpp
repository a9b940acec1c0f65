// The engine again on plain numbers: the same algorithm and layout as tranche/optimise/engine/best_path.hpp, with no type of the
// library in it, and with the same intervals of starts, decided beforehand. What the engine takes longer than this is what its
// types cost.
// SPDX-License-Identifier: BSL-1.0
#pragma once

#include <algorithm>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace tranche_benchmark {

/// One way to use a stretch: cumulative masses (zeros for loose meat) and windows. `Number` is double or a 64-bit integer.
template <class Number>
struct raw_option {
    std::vector<Number> front, back;
    Number constant = 0, least_weight = 0, most_weight = 0;
    std::size_t least_cells = 1, most_cells = 0, first_to_end = 1, last_to_end = 0, past_from = 0, past_to = 0;
    std::vector<std::uint32_t> first, past; ///< by end: where a slab may start, all limits looked at
};

/// The first `loose` options are loose meat.
template <class Number>
struct raw_instance {
    std::vector<raw_option<Number>> options;
    std::size_t loose = 0, start = 0, cells = 0;
};

struct raw_stretch {
    std::size_t from, to, option;
};

template <class Number>
struct raw_result {
    std::vector<raw_stretch> stretches;
    Number score;
};

template <class Number>
class raw_twin {
public:
    explicit raw_twin(const raw_instance<Number>& instance)
        : in_(instance), best_(instance.cells + 1), block_(in_.cells) {
        for (std::size_t o = 0; o < in_.options.size(); ++o) {
            const raw_option<Number>& option = in_.options[o];
            block_ = std::min(block_, option.least_cells);
            const std::size_t starts =
                option.most_cells > option.least_cells ? option.most_cells - option.least_cells + 3 : 3;
            if (o < in_.loose) {
                loose_.push_back({opening(option, in_.start), in_.start, in_.start + 1});
            } else {
                const std::size_t ring = std::bit_ceil(starts + 1);
                portions_.push_back({std::vector<entry>(ring), ring - 1, 0, 0, in_.start});
            }
        }
    }

    raw_result<Number> run() {
        const std::size_t end = in_.cells;
        for (std::size_t first = in_.start + 1, past = 0; first < end; first = past) {
            past = std::min(first + block_, end);
            for (std::size_t o = 0; o < in_.loose; ++o)
                for (std::size_t to = first; to < past; ++to) offer_loose(o, to, in_.options[o].least_cells);
            for (std::size_t o = in_.loose; o < in_.options.size(); ++o) {
                const raw_option<Number>& option = in_.options[o];
                window w = std::move(portions_[o - in_.loose]);
                for (std::size_t to = first; to < std::min(past, option.past_to); ++to)
                    if (option.first[to] < option.past[to]) offer_portion(o, to, option.first[to], option.past[to], w);
                portions_[o - in_.loose] = std::move(w);
            }
        }
        for (std::size_t o = 0; o < in_.loose; ++o) offer_loose(o, end, 1);
        for (std::size_t o = in_.loose; o < in_.options.size(); ++o) {
            const raw_option<Number>& option = in_.options[o];
            for (std::size_t from = option.first[end]; from < option.past[end]; ++from)
                offer(end, best_[from].score + opening(option, from) + closing(option, end), from, o);
        }
        raw_result<Number> result{{}, best_[end].score};
        for (std::size_t at = end; at > in_.start; at = best_[at].from)
            result.stretches.push_back({best_[at].from, at, best_[at].option});
        std::reverse(result.stretches.begin(), result.stretches.end());
        return result;
    }

private:
    struct candidate {
        Number score{};
        std::uint32_t from = 0, option = 0;
    };
    struct entry {
        Number key{};
        std::size_t start = 0;
    };
    struct window {
        std::vector<entry> ring;
        std::size_t mask, head, past, next;
    };
    struct running_best {
        Number key;
        std::size_t start, next;
    };

    static Number opening(const raw_option<Number>& o, std::size_t from) { return -o.front[from]; }
    static Number closing(const raw_option<Number>& o, std::size_t to) { return o.back[to] + o.constant; }

    void offer(std::size_t to, Number value, std::size_t from, std::size_t option) {
        if (best_[to].score < value)
            best_[to] = {value, static_cast<std::uint32_t>(from), static_cast<std::uint32_t>(option)};
    }
    void offer_loose(std::size_t o, std::size_t to, std::size_t least) {
        running_best& b = loose_[o];
        for (; b.next + least <= to; ++b.next) {
            const Number key = best_[b.next].score + opening(in_.options[o], b.next);
            if (b.key < key) {
                b.key = key;
                b.start = b.next;
            }
        }
        const Number value = b.key + closing(in_.options[o], to);
        if (o == 0)
            best_[to] = {value, static_cast<std::uint32_t>(b.start), 0};
        else
            offer(to, value, b.start, o);
    }
    void offer_portion(std::size_t o, std::size_t to, std::size_t first, std::size_t past, window& w) {
        const raw_option<Number>& option = in_.options[o];
        while (w.head != w.past && w.ring[w.head & w.mask].start < first) ++w.head;
        std::size_t next = std::max(w.next, first);
        for (; next < past; ++next) {
            const Number key = best_[next].score + opening(option, next);
            while (w.past != w.head && w.ring[(w.past - 1) & w.mask].key < key) --w.past;
            w.ring[w.past++ & w.mask] = {key, next};
        }
        w.next = next;
        if (w.head != w.past) {
            const entry& e = w.ring[w.head & w.mask];
            offer(to, e.key + closing(option, to), e.start, o);
        }
    }

    const raw_instance<Number>& in_;
    std::vector<candidate> best_;
    std::size_t block_;
    std::vector<running_best> loose_;
    std::vector<window> portions_;
};

} // namespace tranche_benchmark
