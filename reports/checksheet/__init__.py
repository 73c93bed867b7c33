"""Check sheets: what stands in a file that was exported, counted from the file by other code than wrote it."""
