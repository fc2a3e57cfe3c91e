"""Questions of strangers in SPARQL: refused where they reach too far, answered where they can be stopped."""
