package diagnosis_test

import (
	"fmt"

	"oidium/diagnosis"
)

// The key asks until it knows enough.
func ExampleFollow() {
	squash := diagnosis.Host{Crop: "courgette", Family: "cucurbit"}
	answers := map[string]string{"part": "leaf", "seen": "white", "rub": "soft", "round": "yes"}
	r, err := diagnosis.Follow(squash, answers)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Ask.Text)

	answers["grown"], answers["habit"], answers["lens"] = "yes", "both", "nothing"
	r, err = diagnosis.Follow(squash, answers)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Outcome.Sure+":", r.Outcome.Name)
	fmt.Println("next:", r.Outcome.Next)
	// Output:
	// Mark or wipe one patch and look again after three days. Did it come back or grow?
	// sure: powdery mildew
	// next: Count old leaves, both sides. A lens on the patch makes it surer.
}
