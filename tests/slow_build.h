#pragma once

/// A build without optimisation or with sanitizers takes several times as long for everything:
/// there a study goes through fewer of its cases, and is left out where others run the same code.
#ifdef NDEBUG
inline constexpr bool slow_build = false;
#else
inline constexpr bool slow_build = true;
#endif
