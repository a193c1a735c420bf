package jobfile

// Text is what Save would write.
func (d *Doc) Text() string { return string(d.text.Bytes()) }
