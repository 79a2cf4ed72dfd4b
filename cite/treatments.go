package cite

// treatments lists the sources on treatments.
var treatments = []Source{}
