package cite

// heat lists the sources on heat.
var heat = []Source{}
