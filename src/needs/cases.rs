//! Cases of the table: what must fire, and what comes near and must not.
