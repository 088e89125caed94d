# What `cmake --install` puts where, and the Debian package that `cpack -G DEB` makes of it.
set(PACKAGING "${CMAKE_CURRENT_LIST_DIR}")
install(TARGETS haftwright RUNTIME DESTINATION "${CMAKE_INSTALL_BINDIR}")
if(NOT HAFTWRIGHT_SANITIZE)
  install(TARGETS haftwright_kernel_module LIBRARY DESTINATION "${CMAKE_INSTALL_LIBDIR}/haftwright")
endif()
file(GLOB SAMPLES CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/projects/*.json")
install(FILES ${SAMPLES} DESTINATION "${CMAKE_INSTALL_DATADIR}/haftwright/projects")
install(DIRECTORY projects/bin-pictures DESTINATION "${CMAKE_INSTALL_DATADIR}/haftwright/projects")
install(FILES "${PACKAGING}/haftwright.desktop" DESTINATION "${CMAKE_INSTALL_DATADIR}/applications")
install(FILES "${PACKAGING}/haftwright.svg" DESTINATION "${CMAKE_INSTALL_DATADIR}/icons/hicolor/scalable/apps")
install(FILES "${PACKAGING}/haftwright.1" DESTINATION "${CMAKE_INSTALL_MANDIR}/man1")
install(FILES "${PACKAGING}/haftwright.bash" DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions"
        RENAME haftwright)
# In the folders that README links to.
install(FILES README.md DESTINATION "${CMAKE_INSTALL_DOCDIR}")
install(FILES projects/FORMAT.md DESTINATION "${CMAKE_INSTALL_DOCDIR}/projects")
install(DIRECTORY projects/pictures DESTINATION "${CMAKE_INSTALL_DOCDIR}/projects")

set(CPACK_PACKAGE_NAME haftwright)
set(CPACK_PACKAGE_CONTACT "Haftwright makers <makers@haftwright.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "lay out two-sided knife and tool handles before cutting and drilling")
set(CPACK_PACKAGE_DESCRIPTION "Haftwright lays out full-tang handles pieced together from offcuts, measures every
margin of holes, pins and joint lines, tells how far the joint lines of left and right may miss each other and how much
epoxy to mix, and writes a drill guide and the finished handle as STEP.")
set(CPACK_STRIP_FILES ON)
set(CPACK_GENERATOR DEB)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# What no library of the program names: libepoxy opens EGL and OpenGL as it runs, both want a driver, and the window
# reads its fonts.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "libegl1, libgl1, libgl1-mesa-dri, fonts-dejavu-core")
# Opened when the first HEIC is read.
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "libheif1")
include(CPack)
