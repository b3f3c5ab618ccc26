"""The metadata that travel with the document (ISO 16684-1), in the form that archives accept."""

from __future__ import annotations

import datetime as dt
from xml.sax.saxutils import escape

# ISO 19005-3, 6.6.2.3: what is no schema of its own must be described where it is used. The description
# stands first and by itself, since some readers learn the schema from it before they read what uses it.
SCHEMAS = """
  <rdf:Description rdf:about=""
    xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
    xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"
    xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
   <pdfaExtension:schemas>
    <rdf:Bag>
     <rdf:li rdf:parseType="Resource">
      <pdfaSchema:schema>PDF/UA Universal Accessibility Schema</pdfaSchema:schema>
      <pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
      <pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
      <pdfaSchema:property>
       <rdf:Seq>
        <rdf:li rdf:parseType="Resource">
         <pdfaProperty:name>part</pdfaProperty:name>
         <pdfaProperty:valueType>Integer</pdfaProperty:valueType>
         <pdfaProperty:category>internal</pdfaProperty:category>
         <pdfaProperty:description>Part of ISO 14289 that the document conforms to</pdfaProperty:description>
        </rdf:li>
       </rdf:Seq>
      </pdfaSchema:property>
     </rdf:li>
    </rdf:Bag>
   </pdfaExtension:schemas>
  </rdf:Description>"""
PDFUA = """
   <pdfuaid:part>1</pdfuaid:part>"""

PACKET = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">{schemas}
  <rdf:Description rdf:about=""
    xmlns:dc="http://purl.org/dc/elements/1.1/"
    xmlns:xmp="http://ns.adobe.com/xap/1.0/"
    xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
    xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"
    xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
   <dc:format>application/pdf</dc:format>
   <dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
   <dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
   <xmp:CreatorTool>{producer}</xmp:CreatorTool>
   <xmp:CreateDate>{stamp}</xmp:CreateDate>
   <xmp:ModifyDate>{stamp}</xmp:ModifyDate>
   <xmp:MetadataDate>{stamp}</xmp:MetadataDate>
   <pdf:Producer>{producer}</pdf:Producer>
   <pdfaid:part>3</pdfaid:part>
   <pdfaid:conformance>{level}</pdfaid:conformance>{more}
  </rdf:Description>
 </rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>
"""


def xmp(title: str, language: str, producer: str, when: dt.datetime, tagged: bool) -> bytes:
    """The packet; level A and PDF/UA where the content is tagged, else level U."""
    packet = PACKET.format(
        title=escape(title),
        language=escape(language),
        producer=escape(producer),
        stamp=when.replace(microsecond=0).isoformat(),
        level="A" if tagged else "U",
        schemas=SCHEMAS if tagged else "",
        more=PDFUA if tagged else "",
    )
    return packet.encode("utf-8")
