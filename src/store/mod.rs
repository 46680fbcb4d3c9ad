//! Reading and writing the program's own files.
