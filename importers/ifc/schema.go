package ifc

import "boardrun/importers/ifc/part21"

// Entities this importer works with. Their attributes are read by position; the
// positions used are the same in IFC2X3 TC1, IFC4 ADD2 TC1 and IFC4X3 ADD2
// (ISO 16739-1:2024), later schemas only add attributes behind them.
const (
	_ part21.Keyword = iota
	ifcProject
	ifcSite
	ifcBuilding
	ifcBuildingStorey
	ifcSpace
	ifcWall
	ifcWallStandardCase
	ifcWallElementedCase
	ifcCurtainWall
	ifcOpeningElement
	ifcOpeningStandardCase
	ifcVoidingFeature
	ifcDoor
	ifcDoorStandardCase
	ifcWindow
	ifcWindowStandardCase
	ifcSlab
	ifcSlabStandardCase
	ifcSlabElementedCase
	ifcRoof
	ifcCovering
	ifcColumn
	ifcColumnStandardCase
	ifcBeam
	ifcBeamStandardCase
	ifcBuildingElementProxy
	ifcBuildingElementPart
	ifcPlate
	ifcMember
	ifcRelVoidsElement
	ifcRelFillsElement
	ifcRelAggregates
	ifcRelNests
	ifcRelContainedInSpatialStructure
	ifcRelDefinesByProperties
	ifcRelDefinesByType
	ifcRelAssociatesMaterial
	ifcRelConnectsPathElements
	ifcWallType
	ifcPropertySet
	ifcPropertySingleValue
	ifcPropertyEnumeratedValue
	ifcElementQuantity
	ifcMaterial
	ifcMaterialLayer
	ifcMaterialLayerWithOffsets
	ifcMaterialLayerSet
	ifcMaterialLayerSetUsage
	ifcMaterialList
	ifcMaterialConstituentSet
	ifcMaterialConstituent
	ifcMaterialProfileSetUsage
	ifcMaterialProfileSet
	ifcMaterialProfile
	ifcUnitAssignment
	ifcSIUnit
	ifcConversionBasedUnit
	ifcConversionBasedUnitWithOffset
	ifcMeasureWithUnit
	ifcLocalPlacement
	ifcGridPlacement
	ifcLinearPlacement
	ifcAxis2Placement2D
	ifcAxis2Placement3D
	ifcAxis1Placement
	ifcCartesianPoint
	ifcDirection
	ifcVector
	ifcCartesianTransformationOperator3D
	ifcCartesianTransformationOperator3DnonUniform
	ifcCartesianTransformationOperator2D
	ifcCartesianTransformationOperator2DnonUniform
	ifcProductDefinitionShape
	ifcShapeRepresentation
	ifcTopologyRepresentation
	ifcMappedItem
	ifcRepresentationMap
	ifcExtrudedAreaSolid
	ifcBooleanResult
	ifcBooleanClippingResult
	ifcHalfSpaceSolid
	ifcPolygonalBoundedHalfSpace
	ifcBoxedHalfSpace
	ifcBoundingBox
	ifcPlane
	ifcCsgSolid
	ifcBlock
	ifcRevolvedAreaSolid
	ifcRectangleProfileDef
	ifcRoundedRectangleProfileDef
	ifcRectangleHollowProfileDef
	ifcCircleProfileDef
	ifcCircleHollowProfileDef
	ifcEllipseProfileDef
	ifcArbitraryClosedProfileDef
	ifcArbitraryProfileDefWithVoids
	ifcDerivedProfileDef
	ifcMirroredProfileDef
	ifcCompositeProfileDef
	ifcTrapeziumProfileDef
	ifcIShapeProfileDef
	ifcAsymmetricIShapeProfileDef
	ifcLShapeProfileDef
	ifcTShapeProfileDef
	ifcUShapeProfileDef
	ifcPolyline
	ifcCompositeCurve
	ifcCompositeCurveSegment
	ifcTrimmedCurve
	ifcCircle
	ifcEllipse
	ifcLine
	ifcIndexedPolyCurve
	ifcCartesianPointList2D
	ifcCartesianPointList3D
	ifcLineIndex
	ifcArcIndex
	ifcParameterValue
	ifcFacetedBrep
	ifcFacetedBrepWithVoids
	ifcAdvancedBrep
	ifcAdvancedBrepWithVoids
	ifcManifoldSolidBrep
	ifcClosedShell
	ifcOpenShell
	ifcConnectedFaceSet
	ifcFace
	ifcFaceSurface
	ifcAdvancedFace
	ifcFaceBound
	ifcFaceOuterBound
	ifcPolyLoop
	ifcEdgeLoop
	ifcOrientedEdge
	ifcEdge
	ifcEdgeCurve
	ifcVertexPoint
	ifcFaceBasedSurfaceModel
	ifcShellBasedSurfaceModel
	ifcTriangulatedFaceSet
	ifcTriangulatedIrregularNetwork
	ifcPolygonalFaceSet
	ifcIndexedPolygonalFace
	ifcIndexedPolygonalFaceWithVoids
	ifcPresentationLayerAssignment
	ifcPresentationLayerWithStyle
)

// words is the vocabulary, in the order of the constants.
var words = part21.NewVocabulary(
	"IFCPROJECT", "IFCSITE", "IFCBUILDING", "IFCBUILDINGSTOREY", "IFCSPACE",
	"IFCWALL", "IFCWALLSTANDARDCASE", "IFCWALLELEMENTEDCASE", "IFCCURTAINWALL", "IFCOPENINGELEMENT", "IFCOPENINGSTANDARDCASE", "IFCVOIDINGFEATURE", "IFCDOOR", "IFCDOORSTANDARDCASE", "IFCWINDOW", "IFCWINDOWSTANDARDCASE",
	"IFCSLAB", "IFCSLABSTANDARDCASE", "IFCSLABELEMENTEDCASE", "IFCROOF", "IFCCOVERING", "IFCCOLUMN", "IFCCOLUMNSTANDARDCASE", "IFCBEAM", "IFCBEAMSTANDARDCASE", "IFCBUILDINGELEMENTPROXY", "IFCBUILDINGELEMENTPART", "IFCPLATE", "IFCMEMBER",
	"IFCRELVOIDSELEMENT", "IFCRELFILLSELEMENT", "IFCRELAGGREGATES", "IFCRELNESTS", "IFCRELCONTAINEDINSPATIALSTRUCTURE", "IFCRELDEFINESBYPROPERTIES", "IFCRELDEFINESBYTYPE", "IFCRELASSOCIATESMATERIAL", "IFCRELCONNECTSPATHELEMENTS",
	"IFCWALLTYPE", "IFCPROPERTYSET", "IFCPROPERTYSINGLEVALUE", "IFCPROPERTYENUMERATEDVALUE", "IFCELEMENTQUANTITY",
	"IFCMATERIAL", "IFCMATERIALLAYER", "IFCMATERIALLAYERWITHOFFSETS", "IFCMATERIALLAYERSET", "IFCMATERIALLAYERSETUSAGE", "IFCMATERIALLIST", "IFCMATERIALCONSTITUENTSET", "IFCMATERIALCONSTITUENT", "IFCMATERIALPROFILESETUSAGE", "IFCMATERIALPROFILESET", "IFCMATERIALPROFILE",
	"IFCUNITASSIGNMENT", "IFCSIUNIT", "IFCCONVERSIONBASEDUNIT", "IFCCONVERSIONBASEDUNITWITHOFFSET", "IFCMEASUREWITHUNIT",
	"IFCLOCALPLACEMENT", "IFCGRIDPLACEMENT", "IFCLINEARPLACEMENT", "IFCAXIS2PLACEMENT2D", "IFCAXIS2PLACEMENT3D", "IFCAXIS1PLACEMENT", "IFCCARTESIANPOINT", "IFCDIRECTION", "IFCVECTOR",
	"IFCCARTESIANTRANSFORMATIONOPERATOR3D", "IFCCARTESIANTRANSFORMATIONOPERATOR3DNONUNIFORM", "IFCCARTESIANTRANSFORMATIONOPERATOR2D", "IFCCARTESIANTRANSFORMATIONOPERATOR2DNONUNIFORM",
	"IFCPRODUCTDEFINITIONSHAPE", "IFCSHAPEREPRESENTATION", "IFCTOPOLOGYREPRESENTATION", "IFCMAPPEDITEM", "IFCREPRESENTATIONMAP",
	"IFCEXTRUDEDAREASOLID", "IFCBOOLEANRESULT", "IFCBOOLEANCLIPPINGRESULT", "IFCHALFSPACESOLID", "IFCPOLYGONALBOUNDEDHALFSPACE", "IFCBOXEDHALFSPACE", "IFCBOUNDINGBOX", "IFCPLANE", "IFCCSGSOLID", "IFCBLOCK", "IFCREVOLVEDAREASOLID",
	"IFCRECTANGLEPROFILEDEF", "IFCROUNDEDRECTANGLEPROFILEDEF", "IFCRECTANGLEHOLLOWPROFILEDEF", "IFCCIRCLEPROFILEDEF", "IFCCIRCLEHOLLOWPROFILEDEF", "IFCELLIPSEPROFILEDEF", "IFCARBITRARYCLOSEDPROFILEDEF", "IFCARBITRARYPROFILEDEFWITHVOIDS", "IFCDERIVEDPROFILEDEF", "IFCMIRROREDPROFILEDEF", "IFCCOMPOSITEPROFILEDEF", "IFCTRAPEZIUMPROFILEDEF", "IFCISHAPEPROFILEDEF", "IFCASYMMETRICISHAPEPROFILEDEF", "IFCLSHAPEPROFILEDEF", "IFCTSHAPEPROFILEDEF", "IFCUSHAPEPROFILEDEF",
	"IFCPOLYLINE", "IFCCOMPOSITECURVE", "IFCCOMPOSITECURVESEGMENT", "IFCTRIMMEDCURVE", "IFCCIRCLE", "IFCELLIPSE", "IFCLINE", "IFCINDEXEDPOLYCURVE", "IFCCARTESIANPOINTLIST2D", "IFCCARTESIANPOINTLIST3D", "IFCLINEINDEX", "IFCARCINDEX", "IFCPARAMETERVALUE",
	"IFCFACETEDBREP", "IFCFACETEDBREPWITHVOIDS", "IFCADVANCEDBREP", "IFCADVANCEDBREPWITHVOIDS", "IFCMANIFOLDSOLIDBREP", "IFCCLOSEDSHELL", "IFCOPENSHELL", "IFCCONNECTEDFACESET", "IFCFACE", "IFCFACESURFACE", "IFCADVANCEDFACE", "IFCFACEBOUND", "IFCFACEOUTERBOUND", "IFCPOLYLOOP", "IFCEDGELOOP", "IFCORIENTEDEDGE", "IFCEDGE", "IFCEDGECURVE", "IFCVERTEXPOINT", "IFCFACEBASEDSURFACEMODEL", "IFCSHELLBASEDSURFACEMODEL", "IFCTRIANGULATEDFACESET", "IFCTRIANGULATEDIRREGULARNETWORK", "IFCPOLYGONALFACESET", "IFCINDEXEDPOLYGONALFACE", "IFCINDEXEDPOLYGONALFACEWITHVOIDS",
	"IFCPRESENTATIONLAYERASSIGNMENT", "IFCPRESENTATIONLAYERWITHSTYLE",
)
