package render

// The objects of SARIF 2.1.0 that a report has, with the properties that it gives.

type sarifRun struct {
	Tool        sarifTool            `json:"tool"`
	Invocations []sarifInvocation    `json:"invocations"`
	Bases       map[string]sarifBase `json:"originalUriBaseIds"`
	Columns     string               `json:"columnKind"`
	Newlines    []string             `json:"newlineSequences"`
	Properties  map[string]any       `json:"properties"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name    string      `json:"name"`
	Version string      `json:"version,omitempty"`
	Rules   []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID         string         `json:"id"`
	Short      sarifMessage   `json:"shortDescription"`
	Full       sarifMessage   `json:"fullDescription"`
	Help       sarifMessage   `json:"help"`
	Default    sarifDefault   `json:"defaultConfiguration"`
	Properties map[string]any `json:"properties"`
}

type sarifDefault struct {
	Level string `json:"level"`
}

type sarifInvocation struct {
	Successful    bool                `json:"executionSuccessful"`
	ExitCode      int                 `json:"exitCode"`
	Notifications []sarifNotification `json:"toolExecutionNotifications,omitempty"`
}

type sarifNotification struct {
	Level   string       `json:"level"`
	Message sarifMessage `json:"message"`
}

// sarifBase has no URI, which would tell where on the machine the run was, 3.14.14.
type sarifBase struct {
	Description sarifMessage `json:"description"`
}

type sarifMessage struct {
	Text string `json:"text"`
}

type sarifResult struct {
	RuleID       string             `json:"ruleId"`
	RuleIndex    int                `json:"ruleIndex"`
	Kind         string             `json:"kind"`
	Level        string             `json:"level"`
	Message      sarifMessage       `json:"message"`
	Locations    []sarifLocation    `json:"locations"`
	Related      []sarifLocation    `json:"relatedLocations,omitempty"`
	Prints       sarifPrints        `json:"partialFingerprints"`
	Suppressions []sarifSuppression `json:"suppressions"`
	Properties   map[string]string  `json:"properties"`
}

// printsKey is the key of sarifPrints, and changes with what a fingerprint is made of, 3.27.17.
const printsKey = "doorRule/v1"

type sarifPrints struct {
	DoorRule string `json:"doorRule/v1"`
}

type sarifLocation struct {
	Physical *sarifPhysical `json:"physicalLocation,omitempty"`
	Logical  []sarifLogical `json:"logicalLocations,omitempty"`
}

type sarifPhysical struct {
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   *sarifRegion  `json:"region,omitempty"`
}

type sarifArtifact struct {
	URI  string `json:"uri"`
	Base string `json:"uriBaseId,omitempty"`
}

type sarifRegion struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn"`
	EndLine     int `json:"endLine"`
	EndColumn   int `json:"endColumn"`
}

type sarifLogical struct {
	FullName string `json:"fullyQualifiedName"`
}

type sarifSuppression struct {
	Kind          string `json:"kind"`
	Status        string `json:"status"`
	Justification string `json:"justification"`
}
