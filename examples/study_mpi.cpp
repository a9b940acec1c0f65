// One study by many ranks, as `mpirun -n 4 study_mpi` starts them: the digest is the same whatever their number.
// SPDX-License-Identifier: BSL-1.0
#include <cstdio>
#include <cstdlib>

#include "over_ranks.hpp"
#include "sliced_prisms.hpp"

int main(int argc, char** argv) {
    const example::mpi_session session(argc, argv);
    const example::over_ranks ranks;
    const std::uint64_t replicates = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 100'000;
    try {
        // All ranks know the whole result after each look, so they stop at a precision together.
        const tranche::study_result result = tranche::run_study(
            example::sliced_prisms{},
            {.title = "slices of 30 mm",
             .replicates = replicates,
             .precision = tranche::study_precision{.output = "cost of a slice", .half_width = 0.005}},
            ranks);
        if (ranks.rank() != 0) return 0;
        const auto cost = tranche::estimate_mean(result["cost of a slice"]);
        std::printf("%llu replicates by %d ranks, cost of a slice %.2f +- %.3f\n",
                    static_cast<unsigned long long>(result.replicates()), ranks.size(), cost->mean, cost->half_width());
        std::printf("digest %016llx\n", static_cast<unsigned long long>(tranche::study_digest(result)));
    } catch (const tranche::invalid_input& error) {
        if (ranks.rank() == 0) std::fprintf(stderr, "%s\n", error.what());
        return 2;
    }
}
