package cite

// scouting lists the sources on scouting.
var scouting = []Source{
	{ID: "hop-leaf-counts", Text: "open counts of powdery mildew on hop leaves, 2020 and 2022, 270 plants of 10 leaves; beta-binomial fitted here"},
}
