package cite

// scouting lists the sources on scouting.
var scouting = []Source{}
