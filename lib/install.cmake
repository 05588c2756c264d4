# What `cmake --install` puts in place: the program, its manual page, completions, data and notes,
# the library with its headers, and the CMake package that lets another project say
# find_package(thickset) and link thickset::thickset. The component `program` is what a Debian
# package takes as it is; package.cmake adds what has another place or form there.
include(CMakePackageConfigHelpers)

set(data_folder ${CMAKE_INSTALL_DATADIR}/thickset)
set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/thickset)

install(TARGETS thickset_cli COMPONENT program)
install(DIRECTORY data/ DESTINATION ${data_folder} COMPONENT program)

# The manual page is what the built program prints.
set(manual ${PROJECT_BINARY_DIR}/thickset.1)
add_custom_command(OUTPUT ${manual}
  COMMAND thickset_cli help manual > ${manual}
  DEPENDS thickset_cli VERBATIM)
add_custom_target(thickset_manual ALL DEPENDS ${manual})
install(FILES ${manual} DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT manual)

# So are the completions of three shells, each where its shell looks for them.
set(completions)
foreach(shell IN ITEMS bash zsh fish)
  set(completion ${PROJECT_BINARY_DIR}/completion.${shell})
  add_custom_command(OUTPUT ${completion}
    COMMAND thickset_cli help completion ${shell} > ${completion}
    DEPENDS thickset_cli VERBATIM)
  list(APPEND completions ${completion})
endforeach()
add_custom_target(thickset_completions ALL DEPENDS ${completions})
install(FILES ${PROJECT_BINARY_DIR}/completion.bash RENAME thickset
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES ${PROJECT_BINARY_DIR}/completion.zsh RENAME _thickset
        DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions COMPONENT manual)
install(FILES ${PROJECT_BINARY_DIR}/completion.fish RENAME thickset.fish
        DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT program)

# README.md leads to the notes by links relative to itself.
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY notes DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(FILES notes/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT manual)

install(TARGETS thickset_lib EXPORT thickset-targets COMPONENT library)
install(DIRECTORY lib/ DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/thickset COMPONENT library
        FILES_MATCHING PATTERN *.h)
install(EXPORT thickset-targets NAMESPACE thickset:: DESTINATION ${package_folder}
        COMPONENT library)

configure_package_config_file(lib/thickset-config.cmake.in
  ${PROJECT_BINARY_DIR}/thickset-config.cmake
  INSTALL_DESTINATION ${package_folder} PATH_VARS data_folder)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/thickset-config-version.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/thickset-config.cmake
              ${PROJECT_BINARY_DIR}/thickset-config-version.cmake
        DESTINATION ${package_folder} COMPONENT library)
