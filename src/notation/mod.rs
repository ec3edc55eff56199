//! Reading a written prescription.
