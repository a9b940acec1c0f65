// Does a job with warnings of its own as errors, and prints the version of the library it was given.
// SPDX-License-Identifier: BSL-1.0
#include <tranche/units.hpp>
#include <tranche/version.hpp>

#include <iostream>

static_assert(tranche::version >= tranche::version_number{0, 2, 0});

/// Which of the sources beside this one has it depends on the way in which the library came.
const tranche::version_number* version_where_the_job_is_done();

int main() {
    if (version_where_the_job_is_done() != &tranche::version) {
        std::cerr << "the job does not work, or each translation unit has a version of its own\n";
        return 1;
    }
    std::cout << tranche::version_text;
}
