"""The trip: stored, tried out, asked of the computation, and its answer laid out.

- `fields`, `check`: a person's fields become a record's, and are checked as a whole
- `stored`: trips are found and shown
- `write`, `preview`: a trip is written, or only tried out
- `request`, `request_trip`, `request_failures`: vessel and trip as the computation takes them
- `restock`: the whole plan: what is short, by when, and why
- `answer_figures`, `answer_sums`, `answer_pictures`, `answer_lists`: what stands beside its lines
- `money`: prices, never added across currencies

The computation itself is in `spares.domain.trip`.
"""
