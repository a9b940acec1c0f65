# Sourced by tests/run, examples/run and benchmarks/run: packages, build directories, configure and build.
#
# Environment:
#   TRANCHE_BUILD_ROOT  where builds go (default: $XDG_CACHE_HOME/tranche or ~/.cache/tranche)
#   TRANCHE_COMPILERS   the compilers to use, in order (default for tests: g++, else the first one found)

tranche_root="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd -P)"
tranche_missing=()

say() { printf '%s\n' "$*" >&2; }
die() {
    say "error: $*"
    exit 1
}

# A directory for each checkout, so that two of them never share a build.
tranche_build_root() {
    local hash
    hash="$(printf '%s' "$tranche_root" | sha256sum | cut -c1-10)"
    printf '%s/%s' "${TRANCHE_BUILD_ROOT:-${XDG_CACHE_HOME:-$HOME/.cache}/tranche}" "$hash"
}

on_debian() { command -v apt-get >/dev/null && command -v dpkg-query >/dev/null; }

# need_command <command> <Debian package> <why>
need_command() {
    command -v "$1" >/dev/null || tranche_missing+=("$2|$3")
}

# need_library <Debian package> <why>; elsewhere than on Debian it is left to CMake to look for libraries.
need_library() {
    if on_debian; then
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null || true)" = installed ] ||
            tranche_missing+=("$1|$2")
    else
        tranche_libraries="${tranche_libraries-} $1"
    fi
}

need_compiler() {
    case "$(basename "$1")" in
    clang*) need_command "$1" clang "C++20 compiler" ;;
    *) need_command "$1" g++ "C++20 compiler" ;;
    esac
}

# need_fuzzer <compiler>: libFuzzer, which some packagers keep apart from clang. To be called when the compiler is there;
# without libFuzzer the fuzz tests replay their corpus and no more.
need_fuzzer() {
    case "$(basename "$1")" in clang*) ;; *) return 0 ;; esac
    compgen -G "$("$1" -print-resource-dir)/lib/*/libclang_rt.fuzzer*.a" >/dev/null && return 0
    local package
    package="libclang-rt-$("$1" -dumpversion | cut -d. -f1)-dev"
    if on_debian && apt-cache show "$package" >/dev/null 2>&1; then
        need_library "$package" "libFuzzer, for the fuzz tests"
    fi
}

# need_other_ways <compiler>: what tests/other_compilers compiles with beside the compiler's own library. To be called when the
# compiler is there; what cannot be had is skipped. The packages are those of the compiler's version, which put up with
# others: g++-multilib would throw out cross compilers.
need_other_ways() {
    local flags version packages package
    version="$("$1" -dumpversion | cut -d. -f1)"
    case "$(basename "$1")" in
    clang*) flags=-stdlib=libc++ packages="libc++-$version-dev libc++abi-$version-dev" ;;
    *) flags=-m32 packages="g++-$version-multilib" ;;
    esac
    printf '#include <string>\nint main() { return std::string().size(); }\n' |
        "$1" "$flags" -idirafter "/usr/include/$("$1" -dumpmachine | sed 's/-pc-/-/')" -x c++ -o /dev/null - 2>/dev/null && return 0
    for package in $packages; do
        if on_debian && apt-cache show "$package" >/dev/null 2>&1 &&
            ! apt-get -s install --no-install-recommends "$package" 2>/dev/null | grep -q '^Remv'; then
            need_library "$package" "another library or architecture to test with"
        fi
    done
}

# What every build needs.
need_basics() {
    need_command cmake cmake "build system (3.23 or newer)"
    need_command ninja ninja-build "runs the build"
    need_library libboost-dev "Boost.Units, the library's dimensions"
    need_library libeigen3-dev "Eigen, the library's arrays"
}

# Says what will be installed and why, then installs it.
install_missing() {
    [ "${#tranche_missing[@]}" -gt 0 ] || return 0
    local entry packages=() as_root=() log
    say "Needed and not found here:"
    for entry in "${tranche_missing[@]}"; do
        say "  $(printf '%-16s %s' "${entry%%|*}" "${entry#*|}")"
        packages+=("${entry%%|*}")
    done
    on_debian || die "this is not a Debian-like system (no apt-get): please install the above" \
        "(Debian's package names) with your own package manager, and run again."
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || die "not root, and no sudo: please run, as root," \
            "apt-get install ${packages[*]}"
        as_root=(sudo)
    fi
    say "Installing with: ${as_root[*]:+${as_root[*]} }apt-get install --no-install-recommends ${packages[*]}"
    log="$(mktemp)"
    if ! { "${as_root[@]}" apt-get -q update &&
        "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive \
            apt-get -q install -y --no-install-recommends "${packages[@]}"; } >"$log" 2>&1 </dev/null; then
        cat "$log" >&2
        rm -f "$log"
        die "apt-get could not install ${packages[*]}"
    fi
    rm -f "$log"
    tranche_missing=()
}

# The first of TRANCHE_COMPILERS, or what is here, or g++.
one_compiler() {
    local compilers
    read -ra compilers <<<"${TRANCHE_COMPILERS:-}"
    if [ "${#compilers[@]}" -gt 0 ]; then
        printf '%s' "${compilers[0]}"
    elif ! command -v g++ >/dev/null && command -v clang++ >/dev/null; then
        printf clang++
    else
        printf g++
    fi
}

# quietly <command...>: shows the output only if the command fails, without the build's progress lines.
quietly() {
    local log="$tranche_build/run.log"
    if ! "$@" >"$log" 2>&1; then
        grep -vE '^\[[0-9]+/[0-9]+\] (Building|Linking|Generating|Creating|Re-checking|Verifying)' "$log" >&2 || true
        if [ -n "${tranche_libraries-}" ]; then
            say "On Debian this build needs the packages:$tranche_libraries"
        fi
        return 1
    fi
}

# configure_and_build <compiler> <kind> <CMake options...> [-- <targets...>]; leaves the directory in tranche_build.
configure_and_build() {
    local compiler="$1" kind="$2" options=() launcher=""
    shift 2
    while [ $# -gt 0 ] && [ "$1" != -- ]; do
        options+=("$1")
        shift
    done
    [ $# -eq 0 ] || shift
    [ $# -gt 0 ] || set -- all

    tranche_build="$(tranche_build_root)/$(basename "$compiler")-$kind"
    mkdir -p "$tranche_build"
    # Two runs at once would spoil each other's build.
    if command -v flock >/dev/null; then
        exec 9>"$tranche_build/run.lock"
        flock 9
    fi
    if command -v ccache >/dev/null; then
        launcher=ccache
        # Without these ccache never caches a file that uses a precompiled header.
        export CCACHE_SLOPPINESS="${CCACHE_SLOPPINESS:-pch_defines,time_macros,include_file_mtime,include_file_ctime}"
    fi
    say "building $kind with $compiler"
    quietly cmake -S "$tranche_root" -B "$tranche_build" -G Ninja -DCMAKE_CXX_COMPILER="$compiler" \
        -DCMAKE_CXX_COMPILER_LAUNCHER="$launcher" "${options[@]}" || die "cmake could not configure $tranche_build"
    # -k 0: one run shows all errors, not only the first. A compilation for each processor and no more: they take gigabytes.
    quietly cmake --build "$tranche_build" --parallel "$(nproc)" --target "$@" -- -k 0 || die "the build in $tranche_build failed"
    if command -v flock >/dev/null; then
        exec 9>&-
    fi
}
