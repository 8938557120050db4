"""What every output says of itself."""

CAUTIONS = (
    "This is a help to a competent designer. It doesn't replace one, nor the codes that apply where the work is done.",
    'No verdict says that something is safe. "Within" means: within the limit that is named, and nothing else was looked at.',
    "Not checked: voltage drop, fault protection, short circuits, supports themselves, fire stopping beyond how full a carrier is there.",
    "Ratings are for copper in air with the inputs that the schedule gives; what was assumed stands beside each rating.",
    "Sizes and routes are as read from the model and the schedule, or assumed where the problems say so. What is built may differ.",
    "Have it checked by a person who is licensed for such work before anything is ordered, fixed or cast in.",
)
