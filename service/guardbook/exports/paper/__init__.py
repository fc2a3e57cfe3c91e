"""What is printed: labels, the sheet for the bench, reports; set with Typst, one template beside each."""
