package cite

// practice lists the sources on practice.
var practice = []Source{}
