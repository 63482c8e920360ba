"""What a person sees: terminal text and JSON.  No engineering here."""
