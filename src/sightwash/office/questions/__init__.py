"""The six questions, each a page with the unrolled wall as its spine; visits, offers, papers, records."""
